namespace DecayAtlas.Atlas.Records;

/// <summary>
/// The coordinates that leave the atlas. Those of a site marked sensitive are replaced by the centre of a
/// 0.1 degree cell, and the stated uncertainty grows to the cell's half diagonal.
/// </summary>
/// <param name="LatitudeDegrees">WGS 84 latitude (degrees north), missing where the site's is impossible.</param>
/// <param name="LongitudeDegrees">WGS 84 longitude (degrees east), missing where the site's is impossible.</param>
/// <param name="UncertaintyMetres">Coordinate uncertainty (m), where stated or made by generalising.</param>
/// <param name="IsGeneralised">Whether the exact point was replaced.</param>
public sealed record PublishedPlace(double? LatitudeDegrees, double? LongitudeDegrees, double? UncertaintyMetres, bool IsGeneralised)
{
    /// <summary>Side of the cell that hides a sensitive site (degrees).</summary>
    public const double CellDegrees = 0.1;

    private const double MetresPerDegree = 111_320;   // one degree of longitude at the equator, WGS 84

    public static PublishedPlace Of(double latitude, double longitude, double? uncertaintyMetres, bool isSensitive)
    {
        if (!(Math.Abs(latitude) <= 90) || !(Math.Abs(longitude) <= 180))
            return new PublishedPlace(null, null, uncertaintyMetres, false);
        if (!isSensitive)
            return new PublishedPlace(latitude, longitude, uncertaintyMetres, false);

        double halfDiagonal = CellDegrees * MetresPerDegree * Math.Sqrt(0.5);
        return new PublishedPlace(
            CentreOfCell(latitude), CentreOfCell(longitude), Math.Ceiling(Math.Max(halfDiagonal, uncertaintyMetres ?? 0)), true);
    }

    /// <summary>The 10 degree block that holds the place, named by its south-west corner, for example <c>S40W130</c>.</summary>
    public string? Block
    {
        get
        {
            if (LatitudeDegrees is not { } latitude || LongitudeDegrees is not { } longitude)
                return null;
            int south = (int)Math.Floor(Math.Min(latitude, 89.999) / 10) * 10;
            int west = (int)Math.Floor(Math.Min(longitude, 179.999) / 10) * 10;
            return $"{(south < 0 ? 'S' : 'N')}{Math.Abs(south):00}{(west < 0 ? 'W' : 'E')}{Math.Abs(west):000}";
        }
    }

    private static double CentreOfCell(double degrees) =>
        Math.Round((Math.Floor(degrees / CellDegrees) + 0.5) * CellDegrees, 6);
}
