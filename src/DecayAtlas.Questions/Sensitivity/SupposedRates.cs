namespace DecayAtlas.Questions.Sensitivity;

/// <summary>k and S of a burial as supposed.</summary>
/// <param name="Counts">Whether it is among the burials that are averaged and compared.</param>
internal sealed record SupposedBurial(ReleasedBurial Of, (double? RatePerDay, double? Stabilisation) Made, bool Counts)
{
    public double? LnRate => Counts && Made.RatePerDay > 0 ? Math.Log(Made.RatePerDay.Value) : null;
}

/// <summary>All burials under one supposition, and what they come to by plots and sites.</summary>
/// <param name="Burials">In the order of the sample.</param>
/// <param name="LnRateOfSites">Mean of ln k of the untreated burials of each site.</param>
internal sealed record SupposedRates(IReadOnlyList<SupposedBurial> Burials, IReadOnlyDictionary<string, double> LnRateOfSites)
{
    public static SupposedRates Of(IReadOnlyList<ReleasedWeighing> sample, Supposition supposed, SensitivityBasis basis)
    {
        SupposedBurial[] burials =
        [
            .. sample.Select(b => new SupposedBurial(b.Burial, b.Under(supposed, basis.Assumptions), IsCounted(b.Burial, supposed))),
        ];
        return new SupposedRates(
            burials,
            burials.Where(b => b.LnRate is not null && b.Of.IsUntreated).GroupBy(b => b.Of.SiteKey, StringComparer.Ordinal)
                .ToDictionary(g => g.Key, g => g.Average(b => b.LnRate!.Value), StringComparer.Ordinal));
    }

    /// <summary>The rows that the table of plots would have, with the errors that burials of their plots have as released.</summary>
    public IReadOnlyList<ReleasedPlot> Plots(ReleasedRates released)
    {
        Dictionary<(string, string, string?, string), KnownErrors> errors = released.Plots
            .GroupBy(p => (p.SiteKey, p.Campaign, p.Treatment, p.ErrorSet)).ToDictionary(g => g.Key, g => ErrorsOf(g.First()));
        return
        [
            .. ReleasedPlot.Of(
                Burials.Where(b => b.LnRate is not null).Select(b => new PlotBurial(
                    b.Of.SiteKey, b.Of.Campaign, b.Of.Treatment, b.Of.Plot, b.Of.BurialId, b.Of.ErrorSet, b.LnRate, null,
                    b.Made.Stabilisation, b.Of.ExposureDays)),
                b => errors.GetValueOrDefault((b.SiteKey, b.Campaign, b.Treatment, b.ErrorSet))),
        ];
    }

    private static KnownErrors ErrorsOf(ReleasedPlot plot) => new(
        Square(plot.LnRateUncertaintyBag), plot.LnRateStabilisationCovarianceBag ?? 0, Square(plot.StabilisationUncertaintyBag), []);

    private static double Square(double? x) => x * x ?? 0;

    /// <summary>Whether no rate that is averaged differs, so that all answers are the same.</summary>
    public bool SameAs(SupposedRates other) => Burials.Zip(other.Burials).All(b => b.First.LnRate == b.Second.LnRate);

    private static bool IsCounted(ReleasedBurial burial, Supposition supposed)
    {
        if (SeriesUse.IsSetAsideForPlateau(burial.UseBecause))
            return supposed.TakesUnreached && burial.UseBecause == SeriesUse.PlateauNotReached;
        return supposed.Days is { } days
            ? burial.ExposureDays >= days.Shortest && burial.ExposureDays <= days.Longest
            : burial.IsAccepted;
    }
}
