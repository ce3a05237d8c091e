namespace DecayAtlas.Pages.Scripts;

/// <summary>Colours of a quantity on the map, with the round numbers of its legend.</summary>
/// <param name="Ends">What has the first and the last colour; what lies beyond has them too.</param>
/// <param name="IsLog">Whether equal ratios are equally far apart.</param>
/// <param name="Days">Of rates, round half-lives (d) for the other side of the legend.</param>
/// <param name="Unsure">The width of the interval: of k upper over lower, of S upper less lower; missing without interval.</param>
/// <param name="Off">Measured over predicted of k, measured less predicted of S; missing where nothing was held out.</param>
internal sealed record MapScale(IReadOnlyList<double> Ends, IReadOnlyList<string> Colours, bool IsLog, IReadOnlyList<double> Ticks,
    IReadOnlyList<double> Days, MapScale? Unsure = null, MapScale? Off = null)
{
    private const int MostTicks = 5;

    /// <summary>Of the length of a legend, what a number needs at least.</summary>
    private const double Apart = 0.18;

    public static MapScale OfRates(PagesInputs inputs)
    {
        (double low, double high) = Middle(inputs.Data.Rates.Values.Select(r => r.RatePerDay).OfType<double>()
            .Concat(Usable(inputs.Raster, inputs.Raster?.Predicted).Where(v => v > 0))) ?? (0.001, 0.1);
        if (!(high > low))
            (low, high) = (low * 0.9, high * 1.1);
        double[] off = Quantiles.Sort(Unseen.Of(inputs).OffByLn(inputs.Data.Rates.Values).Select(Math.Abs));
        return new MapScale([low, high], Ramp.Rates.Stops, true, RoundNumbers.Apart(low, high, Apart),
            RoundNumbers.Apart(HalfLife.Days(high), HalfLife.Days(low), Apart),
            WidthOf(inputs.Raster, isLog: true),
            off.Length == 0 ? null : OfChange([.. RoundChanges.OfRatios(Quantiles.Of(off, 0.98)).Select(m => Math.Exp(m.Value))], true));
    }

    public static MapScale OfStabilisation(PagesInputs inputs)
    {
        (double low, double high) = Middle(inputs.Data.Rates.Values.Select(r => r.Stabilisation).OfType<double>()
            .Concat(Usable(inputs.StabilisationRaster, inputs.StabilisationRaster?.Predicted))) ?? (0, 1);
        if (!(high > low))
            (low, high) = (low - 0.05, high + 0.05);
        double[] off = Quantiles.Sort(Unseen.Of(inputs).Off(inputs.Data.Rates.Values).Select(Math.Abs));
        return new MapScale([low, high], Ramp.Shares.Stops, false, RoundNumbers.Between(low, high, MostTicks), [],
            WidthOf(inputs.StabilisationRaster, isLog: false),
            off.Length == 0 ? null : OfChange([.. RoundChanges.OfDifferences(Quantiles.Of(off, 0.98)).Select(m => m.Value)], false));
    }

    // both ends and no change come first, of the others those that have room
    private static MapScale OfChange(double[] marks, bool isLog)
    {
        double side = Scaled(marks[^1]);
        List<double> ticks = [marks[0], marks[marks.Length / 2], marks[^1]];
        for (int above = marks.Length - 2; above > marks.Length / 2; above--)
        {
            if (ticks.All(t => Math.Abs(Scaled(t) - Scaled(marks[above])) >= Apart * 2 * side))
                ticks.AddRange([marks[above], marks[marks.Length - 1 - above]]);
        }

        return new([Short(marks[0]), Short(marks[^1])], Ramp.Change.Stops, isLog, [.. ticks.Order().Select(Short)], []);

        double Scaled(double mark) => isLog ? Math.Log(mark) : mark;
    }

    private static MapScale? WidthOf(MapRaster? raster, bool isLog)
    {
        if (raster is not { Lower: { } lower, Upper: { } upper })
            return null;
        (double low, double high) = Middle(Usable(raster, [.. lower.Zip(upper, (l, u) => isLog ? u / l : u - l)])) ?? (1, 2);
        // as sure everywhere is still a scale of two ends
        if (!(high > low * 1.001))
            (low, high) = (low * 0.95, high * 1.05);
        return new MapScale([low, high], Ramp.Unsure.Stops, isLog, RoundNumbers.Between(low, high, MostTicks), []);
    }

    /// <summary>Values of a map where the model applies, so that what must not be relied on sets no colours; all where it applies
    /// nowhere.</summary>
    private static double[] Usable(MapRaster? raster, double[]? values)
    {
        double[] known = [.. (values ?? []).Where(double.IsFinite)];
        double[] usable = raster?.Applies is { } applies
            ? [.. (values ?? []).Where((v, i) => double.IsFinite(v) && applies[i] >= 0.5)] : known;
        return usable.Length > 0 ? usable : known;
    }

    /// <summary>The middle 96 %, of sites and map together, so that a site can be held against what is predicted round it, and a few odd
    /// cells do not flatten all contrast.</summary>
    private static (double Low, double High)? Middle(IEnumerable<double> values)
    {
        double[] sorted = Quantiles.Sort(values);
        return sorted.Length == 0 ? null : (Short(Quantiles.Of(sorted, 0.02)), Short(Quantiles.Of(sorted, 0.98)));
    }

    private static double Short(double value) => Script.Short(value)!.Value;
}
