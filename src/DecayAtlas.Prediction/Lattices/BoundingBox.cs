namespace DecayAtlas.Prediction.Lattices;

/// <summary>A region in WGS 84 degrees. A west edge east of the east edge means that the region goes over the antimeridian.</summary>
public sealed record BoundingBox(double WestDegrees, double SouthDegrees, double EastDegrees, double NorthDegrees)
{
    public double WidthDegrees => EastDegrees - WestDegrees + (EastDegrees < WestDegrees ? 360 : 0);

    /// <summary>Whether the box holds a place, its edges too (to a millionth of a degree, since decimal edges are rarely exact in
    /// binary).</summary>
    public bool Contains(GeoPoint place)
    {
        const double slack = 1e-6;
        double east = place.LongitudeDegrees - WestDegrees;
        east -= 360 * Math.Floor((east + slack) / 360);
        return east <= WidthDegrees + slack && place.LatitudeDegrees >= SouthDegrees - slack
            && place.LatitudeDegrees <= NorthDegrees + slack;
    }

    /// <summary>What two boxes share; null where nothing. Where both ends meet round the Earth, the piece that starts at the other's west
    /// edge.</summary>
    internal BoundingBox? Shared(BoundingBox other)
    {
        double south = Math.Max(SouthDegrees, other.SouthDegrees), north = Math.Min(NorthDegrees, other.NorthDegrees);
        double offset = other.WestDegrees - WestDegrees;
        offset -= 360 * Math.Floor(offset / 360);
        // the other box starts inside this one, or this one starts inside the other
        (double from, double to) = offset <= WidthDegrees
            ? (offset, Math.Min(WidthDegrees, offset + other.WidthDegrees))
            : (0, Math.Min(WidthDegrees, offset - 360 + other.WidthDegrees));
        // a box round the Earth has every longitude: the narrower one is what is shared
        if (other.WidthDegrees >= 360)
            (from, to) = (0, WidthDegrees);
        else if (WidthDegrees >= 360)
            return south < north ? other with { SouthDegrees = south, NorthDegrees = north } : null;
        return south < north && from < to ? new(Turned(WestDegrees + from), south, Turned(WestDegrees + to), north) : null;
    }

    public override string ToString() => Invariant(
        $"{WestDegrees:0.####} to {EastDegrees:0.####} degrees east, {SouthDegrees:0.####} to {NorthDegrees:0.####} degrees north");

    internal void Check()
    {
        if (!(WestDegrees is >= -180 and <= 180 && EastDegrees is >= -180 and <= 180 && WestDegrees != EastDegrees
            && SouthDegrees >= -90 && NorthDegrees <= 90 && SouthDegrees < NorthDegrees))
        {
            throw PredictionException.OfRequest($"The map region ({this}) is not a region; give west and east in -180 to 180 (west above "
                + "east goes over the antimeridian) and south < north in -90 to 90.");
        }
    }

    /// <summary>A longitude in -180 to 180; 180 itself stays.</summary>
    private static double Turned(double longitude) => longitude > 180 + 1e-9 ? longitude - 360
        : longitude < -180 - 1e-9 ? longitude + 360 : longitude;
}
