using System.Globalization;

namespace DecayAtlas.Grids;

/// <summary>What every format asks of a georeference before a grid is opened.</summary>
internal static class GeometryCheck
{
    /// <summary>The geometry, when it lies on the Earth.</summary>
    public static GridGeometry Checked(string path, GridGeometry geometry)
    {
        // Files that store rounded corners may pass the pole by a hair; half a cell is the registration mistake
        // that some global grids really carry, and harmless to sampling.
        double slack = geometry.CellHeightDegrees / 2 + 1e-6;
        bool onEarth = geometry.CellWidthDegrees > 0
            && geometry.CellHeightDegrees > 0
            && geometry.NorthDegrees <= 90 + slack
            && geometry.SouthDegrees >= -90 - slack
            && geometry.WestDegrees >= -360 - geometry.CellWidthDegrees
            && geometry.EastDegrees <= 540 + geometry.CellWidthDegrees
            && geometry.EastDegrees - geometry.WestDegrees <= 360 + geometry.CellWidthDegrees;
        if (onEarth)
        {
            return geometry;
        }

        throw new GridException(string.Create(
            CultureInfo.InvariantCulture,
            $"{path} would reach from {geometry.WestDegrees} to {geometry.EastDegrees} east and from {geometry.SouthDegrees} to {geometry.NorthDegrees} north, ")
            + "which are not degrees on the Earth; check its reference system and its corner coordinates.");
    }

    /// <summary>Refuses a file that names no reference system unless the catalogue declares WGS 84 for it.</summary>
    public static void RequireDeclaredWgs84(string path, string? declaredCrs)
    {
        if (declaredCrs is null)
        {
            throw new GridException(
                $"{path} names no coordinate reference system; if its coordinates are WGS 84 longitude and latitude, "
                + "declare crs: EPSG:4326 for it in the catalogue.");
        }

        if (!declaredCrs.Trim().ToUpperInvariant().Replace("OGC:CRS84", "EPSG:4326", StringComparison.Ordinal)
            .Equals("EPSG:4326", StringComparison.Ordinal))
        {
            throw new GridException(
                $"{path} is declared to be in {declaredCrs}, and this version reads WGS 84 longitude and latitude (EPSG:4326) only; "
                + "reproject it, for example with gdalwarp -t_srs EPSG:4326.");
        }
    }
}
