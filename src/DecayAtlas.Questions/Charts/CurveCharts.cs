namespace DecayAtlas.Questions.Charts;

/// <summary>Charts of series of retrievals.</summary>
internal static class CurveCharts
{
    private const int MostPanels = 9, Columns = 3;

    /// <summary>Up to nine series with their best curves and bands.</summary>
    public static Chart? Curves(IReadOnlyList<ReleasedSeries> series)
    {
        ReleasedSeries[] shown = [.. series.Take(MostPanels)];
        if (shown.Length == 0)
            return null;
        double longest = shown.SelectMany(s => s.Fast.Concat(s.Slow)).Select(p => p.Days).DefaultIfEmpty(1).Max();
        int columns = Math.Min(Columns, shown.Length), rows = (shown.Length + columns - 1) / columns;
        return new PanelChart(
            "Mass left of fast and slow litter, retrieval by retrieval",
            $"Share of mass left against days for {shown.Length} series of retrievals, fast and slow litter, each with the curve of "
            + "lowest AICc and its 95 % band.",
            [.. shown.Select(s => Panel(s, longest))], columns)
        {
            Note = $"Curve of the lowest AICc with its 95 % band, which no one sees where it is narrower than the line; "
                + $"{shown.Length} of {series.Count} series.",
            Width = columns == 1 ? 720 : 960,
            Height = 110 + 250 * rows,
        };
    }

    /// <summary>What the best curves leave over, against days.</summary>
    public static Chart? Residuals(IReadOnlyList<ReleasedSeries> series)
    {
        if (series.Count == 0)
            return null;
        return new XyChart(
            "What the curves leave over",
            $"Observed less fitted share of mass left against days, for {series.Count} series of fast and slow litter. A good fit "
            + "scatters evenly about zero at every date.",
            new Axis("days in the soil") { From = 0 }, new Axis("observed less fitted (share of mass)"),
            [new Rule(0), LayerOf("fast litter", HouseColours.Fast, s => s.Fast), LayerOf("slow litter", HouseColours.Slow, s => s.Slow)])
        {
            Note = $"Curve of the lowest AICc in each of {series.Count} series. Scatter that leans to one side at a date means that the "
            + "shape does not fit."
        };

        Layer LayerOf(string label, int colour, Func<ReleasedSeries, IReadOnlyList<CurvePoint>> points) => new Points(
        [
            .. series.Select(points).SelectMany(p => BestOf(p) is { } fit ? p.Zip(fit.Residuals, (x, r) => new ChartPoint(x.Days, r)) : []),
        ])
        { Series = colour, Label = label };
    }

    private static XyChart Panel(ReleasedSeries series, double longest) => new(
        series.Name, $"Series of {series.Name}.",
        new Axis("days in the soil") { From = 0, To = longest * 1.03 }, new Axis("mass left") { From = 0, To = 1.05 },
        [.. Litter(HouseColours.Fast, "fast litter", series.Fast),
            .. Litter(HouseColours.Slow, "slow litter", series.Slow)]);

    private static IEnumerable<Layer> Litter(int colour, string name, IReadOnlyList<CurvePoint> points)
    {
        if (BestOf(points) is { } fit)
        {
            // from what was buried to the last retrieval, and no further
            double last = points.Max(p => p.Days);
            double[] days = [.. Enumerable.Range(0, 81).Select(i => last * i / 80)];
            yield return new Band([.. days.Select(t => (t, fit.BandAt(t).Lower, fit.BandAt(t).Upper))]) { Series = colour };
            yield return new Line([.. days.Select(t => (t, fit.RemainingAt(t)))]) { Series = colour };
        }

        yield return new Points([.. points.Select(p => new ChartPoint(p.Days, p.RemainingFraction))]) { Series = colour, Label = name };
    }

    private static CurveFit? BestOf(IReadOnlyList<CurvePoint> points) => DecayCurves.Compare(points)
        .Where(c => c.Fit.Value is not null).OrderBy(c => c.Fit.Value!.Aicc ?? double.PositiveInfinity).FirstOrDefault()?.Fit.Value;
}
