using System.Globalization;

namespace DecayAtlas.Grids.GeoTiff;

/// <summary>Reads where a GeoTIFF lies (OGC 19-008r4, GeoTIFF 1.1) and refuses what is not north-up WGS 84 degrees.</summary>
internal static class GeoReference
{
    private const int ModelType = 1024;
    private const int RasterType = 1025;
    private const int GeodeticCrs = 2048;
    private const int GeodeticDatum = 2050;
    private const int PrimeMeridian = 2051;
    private const int PrimeMeridianLongitude = 2061;
    private const int AngularUnits = 2054;
    private const int Ellipsoid = 2056;
    private const int ProjectedCrs = 3072;
    private const int Geographic = 2;
    private const int PixelIsPoint = 2;
    private const int UserDefined = 32767;
    private const int Degree = 9102;
    private const int Greenwich = 8901;

    public static GridGeometry Read(string path, TiffDirectory directory, int columns, int rows, string? declaredCrs)
    {
        Dictionary<int, int> keys = Keys(directory);
        RequireWgs84(path, keys, declaredCrs);
        RequireGreenwich(path, keys, directory);
        (double west, double north, double width, double height) = Transform(path, directory);
        if (keys.GetValueOrDefault(RasterType) == PixelIsPoint)
        {
            // The tie point is the centre of the first cell, not its corner.
            west -= width / 2;
            north += height / 2;
        }

        return GeometryCheck.Checked(path, new GridGeometry(columns, rows, west, north, width, height));
    }

    private static Dictionary<int, int> Keys(TiffDirectory directory)
    {
        double[] raw = directory.Numbers(LibTiff.GeoKeyDirectory);
        Dictionary<int, int> keys = [];
        for (int i = 4; i + 3 < raw.Length; i += 4)
        {
            // The value itself (location 0), or the index of the value among the numbers of another tag.
            keys[(int)raw[i]] = (int)raw[i + 3];
        }

        return keys;
    }

    private static void RequireWgs84(string path, Dictionary<int, int> keys, string? declaredCrs)
    {
        int model = keys.GetValueOrDefault(ModelType);
        int code = keys.GetValueOrDefault(GeodeticCrs);
        if (model == 0 && code == 0 && !keys.ContainsKey(ProjectedCrs))
        {
            GeometryCheck.RequireDeclaredWgs84(path, declaredCrs);
            return;
        }

        if (model != Geographic && (model != 0 || keys.ContainsKey(ProjectedCrs)))
        {
            string which = keys.TryGetValue(ProjectedCrs, out int projected) && projected != UserDefined
                ? $"EPSG:{projected.ToString(CultureInfo.InvariantCulture)}"
                : "a projected reference system";
            throw new GridException(
                $"{path} is in {which}, and this version reads WGS 84 longitude and latitude (EPSG:4326) only; "
                + "reproject it, for example with gdalwarp -t_srs EPSG:4326.");
        }

        bool wgs84 = code is 4326 or 4979
            || (code is 0 or UserDefined
                && (keys.GetValueOrDefault(GeodeticDatum) == 6326
                    || (keys.GetValueOrDefault(GeodeticDatum) is 0 or UserDefined && keys.GetValueOrDefault(Ellipsoid) == 7030)));
        if (keys.TryGetValue(AngularUnits, out int units) && units != Degree)
        {
            throw new GridException(
                $"{path} gives its coordinates in angular unit {units} of the EPSG register, and degrees ({Degree}) were expected.");
        }

        if (!wgs84 && declaredCrs is null)
        {
            string which = code is 0 or UserDefined ? "an unnamed datum" : $"EPSG:{code.ToString(CultureInfo.InvariantCulture)}";
            throw new GridException(
                $"{path} is in degrees on {which}, and WGS 84 (EPSG:4326) was expected; transform it with gdalwarp, or, "
                + "where the difference is far below a cell, declare crs: EPSG:4326 for it in the catalogue.");
        }

        if (!wgs84)
        {
            GeometryCheck.RequireDeclaredWgs84(path, declaredCrs);
        }
    }

    private static void RequireGreenwich(string path, Dictionary<int, int> keys, TiffDirectory directory)
    {
        double[] parameters = directory.Numbers(LibTiff.GeoDoubleParams);
        bool named = keys.GetValueOrDefault(PrimeMeridian, Greenwich) == Greenwich;
        bool atZero = !keys.TryGetValue(PrimeMeridianLongitude, out int index)
            || (index < parameters.Length && parameters[index] == 0);
        if (!named || !atZero)
        {
            throw new GridException(
                $"{path} counts its longitudes from another prime meridian than Greenwich; transform it, for example with gdalwarp -t_srs EPSG:4326.");
        }
    }

    private static (double West, double North, double Width, double Height) Transform(string path, TiffDirectory directory)
    {
        double[] scale = directory.Numbers(LibTiff.ModelPixelScale);
        double[] tie = directory.Numbers(LibTiff.ModelTiePoint);
        double[] matrix = directory.Numbers(LibTiff.ModelTransformation);
        if (matrix.Length == 16)
        {
            if (matrix[1] != 0 || matrix[4] != 0)
            {
                throw new GridException(
                    $"{path} is rotated against north; rewrite it north-up, for example with gdalwarp -t_srs EPSG:4326.");
            }

            return NorthUp(path, matrix[3], matrix[7], matrix[0], -matrix[5]);
        }

        if (scale.Length >= 2 && tie.Length >= 6)
        {
            return NorthUp(path, tie[3] - tie[0] * scale[0], tie[4] + tie[1] * scale[1], scale[0], scale[1]);
        }

        throw new GridException(
            $"{path} is a TIFF that does not say where its cells lie: neither a pixel scale with a tie point nor a "
            + "transformation matrix was found; georeference it, for example with gdal_translate -a_ullr.");
    }

    private static (double West, double North, double Width, double Height) NorthUp(
        string path, double west, double north, double width, double height)
    {
        if (width > 0 && height > 0 && double.IsFinite(width + height + west + north))
        {
            return (west, north, width, height);
        }

        throw new GridException(string.Create(
            CultureInfo.InvariantCulture,
            $"{path} has cells of {width} by {height} degrees; columns must run east and rows south; ")
            + "rewrite a south-up file, for example with gdalwarp -t_srs EPSG:4326.");
    }
}
