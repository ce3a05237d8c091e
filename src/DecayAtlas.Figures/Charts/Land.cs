namespace DecayAtlas.Figures.Charts;

/// <summary>Land and its coast beneath the points of a map in degrees; it is cut off where the chart ends, which the points set.</summary>
/// <param name="Polygons">Each a list of rings, each a list of [longitude, latitude].</param>
public sealed record Land(IReadOnlyList<double[][][]> Polygons) : Layer
{
    /// <summary>Points of an outline that lie closer on the sheet are one.</summary>
    private const double Finest = 0.7;

    internal override IEnumerable<double> Xs => [];

    internal override IEnumerable<double> Ys => [];

    internal override void DrawSign(MarkSheet sheet, double x, double y, int series) =>
        sheet.Draw(HouseColours.Land, Look.Bar, Outline.Box(x, y - 5, 18, 10));

    internal override void Draw(MarkSheet sheet, Scale x, Scale y, Area area, int series)
    {
        foreach (double[][][] polygon in Polygons)
        {
            (double X, double Y)[][] rings =
            [
                .. polygon.Select(ring => Within([.. ring.Select(p => (x.Beyond(p[0]), y.Beyond(p[1])))], area))
                    .Select(Thinned).Where(ring => ring.Length > 2),
            ];
            if (rings.Length == 0)
                continue;
            string outline = string.Concat(rings.Select(ring => Outline.Through(ring) + "z"));
            sheet.Draw(HouseColours.Land, Look.Bar, outline);
            sheet.Draw(HouseColours.Coast, Look.Thin, outline);
        }
    }

    /// <summary>The ring inside the area, edge by edge (Sutherland and Hodgman 1974).</summary>
    private static (double X, double Y)[] Within((double X, double Y)[] ring, Area area)
    {
        Cut(p => p.X - area.Left);
        Cut(p => area.Right - p.X);
        Cut(p => p.Y - area.Top);
        Cut(p => area.Bottom - p.Y);
        return ring;

        void Cut(Func<(double X, double Y), double> insideBy)
        {
            List<(double, double)> kept = [];
            for (int i = 0; i < ring.Length; i++)
            {
                (double X, double Y) from = ring[(i + ring.Length - 1) % ring.Length], to = ring[i];
                double before = insideBy(from), after = insideBy(to);
                if (before >= 0 != after >= 0)
                {
                    double share = before / (before - after);
                    kept.Add((from.X + share * (to.X - from.X), from.Y + share * (to.Y - from.Y)));
                }

                if (after >= 0)
                    kept.Add(to);
            }

            ring = [.. kept];
        }
    }

    private static (double X, double Y)[] Thinned((double X, double Y)[] ring)
    {
        List<(double X, double Y)> kept = [];
        foreach ((double X, double Y) point in ring)
        {
            if (kept.Count == 0 || Math.Abs(point.X - kept[^1].X) + Math.Abs(point.Y - kept[^1].Y) >= Finest)
                kept.Add(point);
        }

        return [.. kept];
    }
}
