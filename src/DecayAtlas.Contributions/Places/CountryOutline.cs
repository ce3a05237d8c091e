namespace DecayAtlas.Contributions.Places;

public readonly record struct OutlinePoint(double LatitudeDegrees, double LongitudeDegrees);

/// <summary>The rings of one country, holes among them.</summary>
/// <param name="Code">ISO 3166-1 alpha-2; null for land that has no code of its own.</param>
public sealed record CountryOutline(string? Code, IReadOnlyList<OutlinePoint[]> Rings)
{
    // mean radius of the Earth, IUGG
    private const double EarthRadiusMetres = 6_371_008.8;

    private readonly (double South, double North, double West, double East)[] _boxes = [.. Rings.Select(ring => (
        ring.Min(p => p.LatitudeDegrees), ring.Max(p => p.LatitudeDegrees),
        ring.Min(p => p.LongitudeDegrees), ring.Max(p => p.LongitudeDegrees)))];

    /// <summary>Whether a place lies inside: an odd number of its rings' edges stands to the east of it (a hole counts against its
    /// land).</summary>
    public bool Contains(double latitudeDegrees, double longitudeDegrees)
    {
        bool isInside = false;
        for (int i = 0; i < Rings.Count; i++)
        {
            (double south, double north, _, double east) = _boxes[i];
            if (latitudeDegrees < south || latitudeDegrees > north || longitudeDegrees > east)
                continue;
            OutlinePoint[] ring = Rings[i];
            for (int a = 0, b = ring.Length - 1; a < ring.Length; b = a++)
            {
                (double ay, double ax) = ring[a];
                (double by, double bx) = ring[b];
                if (ay > latitudeDegrees != by > latitudeDegrees
                    && longitudeDegrees < (bx - ax) * (latitudeDegrees - ay) / (by - ay) + ax)
                {
                    isInside = !isInside;
                }
            }
        }
        return isInside;
    }

    /// <summary>Whether a place lies inside or no further away than that; told by a box about its rings where it is far.</summary>
    public bool IsWithin(double metres, double latitudeDegrees, double longitudeDegrees)
    {
        // a degree of latitude is 110.6 km or more
        double north = metres / 110_000, east = north / Math.Max(0.01, Math.Cos(latitudeDegrees * Math.PI / 180));
        return Array.Exists(_boxes, box => latitudeDegrees >= box.South - north && latitudeDegrees <= box.North + north
            && new[] { -360, 0, 360 }.Any(turn => longitudeDegrees + turn >= box.West - east && longitudeDegrees + turn <= box.East + east))
            && DistanceMetres(latitudeDegrees, longitudeDegrees) <= metres;
    }

    /// <summary>Great-circle distance to the outline (m), 0 inside. The nearest point of an edge is found on a plane about the place,
    /// where it is exact near by; far edges are short beside their distance.</summary>
    public double DistanceMetres(double latitudeDegrees, double longitudeDegrees)
    {
        if (Contains(latitudeDegrees, longitudeDegrees))
            return 0;
        double shrink = Math.Cos(latitudeDegrees * Math.PI / 180), nearest = double.PositiveInfinity;
        foreach (OutlinePoint[] ring in Rings)
        {
            for (int a = 0, b = ring.Length - 1; a < ring.Length; b = a++)
                nearest = Math.Min(nearest, SquaredHalfChord(ring[a], ring[b]));
        }
        return 2 * EarthRadiusMetres * Math.Asin(Math.Sqrt(nearest));

        double SquaredHalfChord(OutlinePoint from, OutlinePoint to)
        {
            double x = East(from, longitudeDegrees), y = from.LatitudeDegrees - latitudeDegrees;
            double dx = East(to, from.LongitudeDegrees), dy = to.LatitudeDegrees - from.LatitudeDegrees, length = dx * dx + dy * dy;
            double along = length == 0 ? 0 : Math.Clamp(-(x * dx + y * dy) / length, 0, 1);
            double north = (y + along * dy) * Math.PI / 180, east = (x + along * dx) / shrink * Math.PI / 180;
            double sinNorth = Math.Sin(north / 2), sinEast = Math.Sin(east / 2);
            return sinNorth * sinNorth + shrink * Math.Cos(latitudeDegrees * Math.PI / 180 + north) * sinEast * sinEast;
        }

        // the short way round the Earth
        double East(OutlinePoint point, double of) => Math.IEEERemainder(point.LongitudeDegrees - of, 360) * shrink;
    }
}
