namespace DecayAtlas.Atlas.Records;

/// <summary>
/// The coordinates that leave the atlas. Those of a site marked sensitive are replaced by the centre of a
/// 0.1 degree cell, and the stated uncertainty grows by the cell's half diagonal, so that the circle still holds the place.
/// </summary>
/// <param name="LatitudeDegrees">WGS 84 latitude (degrees north), missing where the site's is impossible.</param>
/// <param name="LongitudeDegrees">WGS 84 longitude (degrees east), missing where the site's is impossible.</param>
/// <param name="UncertaintyMetres">Coordinate uncertainty (m), where stated or made by generalising; missing where a sensitive site's
/// coordinates are impossible.</param>
/// <param name="IsSensitive">Whether the site is marked sensitive: nothing that tells its exact place leaves the atlas.</param>
public sealed record PublishedPlace(double? LatitudeDegrees, double? LongitudeDegrees, double? UncertaintyMetres, bool IsSensitive)
{
    /// <summary>Side of the cell that hides a sensitive site (degrees).</summary>
    public const double CellDegrees = 0.1;

    private const double MetresPerDegree = 111_320;   // one degree of longitude at the equator, WGS 84

    public static PublishedPlace Of(double latitude, double longitude, double? uncertaintyMetres, bool isSensitive)
    {
        if (!(Math.Abs(latitude) <= 90) || !(Math.Abs(longitude) <= 180))
            return new PublishedPlace(null, null, isSensitive ? null : uncertaintyMetres, isSensitive);
        if (!isSensitive)
            return new PublishedPlace(latitude, longitude, uncertaintyMetres, false);

        double halfDiagonal = CellDegrees * MetresPerDegree * Math.Sqrt(0.5);
        return new PublishedPlace(
            CentreOfCell(latitude, 90), CentreOfCell(longitude, 180), Math.Ceiling(halfDiagonal + (uncertaintyMetres ?? 0)), true);
    }

    public bool IsGeneralised => IsSensitive && LatitudeDegrees is not null;

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

    // a point on the outermost edge belongs to the last cell inside it
    private static double CentreOfCell(double degrees, double edge) =>
        Math.Round((Math.Min(Math.Floor(degrees / CellDegrees), Math.Round(edge / CellDegrees) - 1) + 0.5) * CellDegrees, 6);
}
