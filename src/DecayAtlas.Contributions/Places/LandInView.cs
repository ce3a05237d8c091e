namespace DecayAtlas.Contributions.Places;

/// <summary>A box of the Earth (degrees).</summary>
public readonly record struct ViewBox(double South, double West, double North, double East);

/// <summary>Land for a small map of a few places: the rings that reach into a box, with no more points than can be told apart
/// there.</summary>
public static class LandInView
{
    // points that are told apart on the longer side
    private const double Steps = 400;

    /// <summary>Rings of [longitude, latitude], in degrees.</summary>
    public static IReadOnlyList<double[][]> Of(ViewBox box)
    {
        double step = Math.Max(box.North - box.South, box.East - box.West) / Steps;
        return [.. WorldOutlines.Shipped.Countries.SelectMany(country => country.Rings).Where(Reaches).Select(Thinned)
            .Where(ring => ring.Length > 2)];

        bool Reaches(OutlinePoint[] ring) =>
            ring.Max(p => p.LatitudeDegrees) >= box.South && ring.Min(p => p.LatitudeDegrees) <= box.North
            && ring.Max(p => p.LongitudeDegrees) >= box.West && ring.Min(p => p.LongitudeDegrees) <= box.East;

        double[][] Thinned(OutlinePoint[] ring)
        {
            List<double[]> kept = [];
            foreach ((double latitude, double longitude) in ring)
            {
                if (kept.Count == 0 || Math.Abs(kept[^1][0] - longitude) >= step || Math.Abs(kept[^1][1] - latitude) >= step)
                    kept.Add([Math.Round(longitude, 2), Math.Round(latitude, 2)]);
            }
            return [.. kept];
        }
    }
}
