namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>Reads where a GeoTIFF lies (OGC 19-008r4, GeoTIFF 1.1) and refuses what is not north-up or in an unknown system.</summary>
internal static class GeoReference
{
    private const int RasterType = 1025;
    private const int PixelIsPoint = 2;

    public static (Projection Projection, GridLattice Lattice) Read(
        string path, TiffDirectory directory, int columns, int rows, string? declaredCrs)
    {
        GeoKeys keys = GeoKeys.Read(directory);
        Projection projection = ProjectionOf(path, keys, declaredCrs);
        (double west, double north, double width, double height) = Transform(path, directory);
        if (keys.Code(RasterType) == PixelIsPoint)
        {
            // The tie point is the centre of the first cell, not its corner.
            west -= width / 2;
            north += height / 2;
        }

        return (projection, GeometryCheck.Checked(path, projection, new GridLattice(columns, rows, west, north, width, height)));
    }

    private static Projection ProjectionOf(string path, GeoKeys keys, string? declaredCrs)
    {
        if (GeoKeyCrs.IsSilent(keys))
            return GeometryCheck.Declared(path, declaredCrs);

        CrsDefinition definition;
        try
        {
            definition = GeoKeyCrs.Read(keys);
        }
        catch (GridException e)
        {
            // A user who knows better may say so, but degrees stay degrees and a map stays a map.
            if (declaredCrs is not null && GeoKeyCrs.CountsDegreesFromGreenwich(keys)
                && GeometryCheck.Declared(path, declaredCrs) is var declared && declared.IsGeographic == GeoKeyCrs.IsGeographic(keys))
            {
                return declared;
            }

            throw new GridException(
                $"{path}: {e.Message.TrimEnd('.')}; warp it, for example with gdalwarp -t_srs EPSG:4326, or, where the difference "
                + "is far below a cell, declare its system for it in the catalogue, such as crs: EPSG:4326.", e);
        }

        Projection projection = new(definition);
        GeometryCheck.RequireAgreement(path, projection, declaredCrs);
        return projection;
    }

    private static (double West, double North, double Width, double Height) Transform(string path, TiffDirectory directory)
    {
        double[] scale = directory.Numbers(TiffTag.ModelPixelScale);
        double[] tie = directory.Numbers(TiffTag.ModelTiePoint);
        double[] matrix = directory.Numbers(TiffTag.ModelTransformation);
        if (matrix.Length == 16 && (matrix[1] != 0 || matrix[4] != 0))
        {
            throw new GridException(
                $"{path} is rotated against north; rewrite it north-up, for example with gdalwarp -t_srs EPSG:4326.");
        }

        (double west, double north, double width, double height) = matrix.Length == 16
            ? (matrix[3], matrix[7], matrix[0], -matrix[5])
            : scale.Length >= 2 && tie.Length >= 6
                ? (tie[3] - tie[0] * scale[0], tie[4] + tie[1] * scale[1], scale[0], scale[1])
                : throw new GridException(
                    $"{path} is a TIFF that does not say where its cells lie: neither a pixel scale with a tie point nor a "
                    + "transformation matrix was found; georeference it, for example with gdal_translate -a_ullr.");
        if (width > 0 && height > 0 && double.IsFinite(width + height + west + north))
            return (west, north, width, height);

        throw new GridException($"{path} has cells of {width} by {height} units; columns must run east and rows south; "
            + "rewrite a south-up file, for example with gdalwarp -t_srs EPSG:4326.");
    }
}
