namespace DecayAtlas.Decomposition.Curves;

/// <summary>S of the slow less S of the fast litter of one series (1), each from its own curve.</summary>
/// <param name="StandardError">Of the curves alone, with H as stated (&gt; 0).</param>
public readonly record struct SeriesDifference(double Difference, double StandardError);

/// <summary>What series say together of the difference.</summary>
/// <param name="Difference">Mean over the series, each with the same weight.</param>
/// <param name="Lower95">The interval is mean ± t(0.975, n - 1) s/√n.</param>
/// <param name="BetweenSd">Standard deviation of true differences between series, beyond their own errors: by restricted maximum
/// likelihood, the own errors known. 0 where these explain all scatter.</param>
/// <param name="BetweenSdUpper95">Upper end of its profile-likelihood interval; missing where the search does not settle.</param>
/// <remarks>
/// A random-effects meta-analysis would weigh each series by 1/(τ² + its own variance). Here that misleads: a slow litter that seems to
/// have a low S has a flat curve and a large standard error, so that weights lean to high S. Over simulated series (weights.R beside the
/// tests) such a mean is too high by 0.01, and its interval with the correction of Knapp and Hartung 2003, Statistics in Medicine
/// 22:2693-2710 (from memory), holds the truth in 87 to 91 % of sets of 9 series and in 82 % of sets of 20. The plain mean is too low by
/// 0.005, and its t interval, which is that correction where all weights are equal, holds it in 93 to 97 %.
/// </remarks>
public sealed record PooledDifference(
    int Series, double Difference, double Lower95, double Upper95, double BetweenSd, double? BetweenSdUpper95)
{
    private const int FewestSeries = 3;

    public static Answer<PooledDifference> Of(IReadOnlyList<SeriesDifference> series)
    {
        if (series.Any(s => !double.IsFinite(s.Difference) || !double.IsFinite(s.StandardError)))
            return Unanswered.NotFinite("differences and their errors");
        if (series.Any(s => s.StandardError <= 0))
            return new Unanswered("Each difference needs a standard error above 0.");
        if (series.Count < FewestSeries)
            return Unanswered.TooFew("series", series.Count, FewestSeries);
        Answer<MixedFit> model = MixedModel.Fit(
            [.. series.Select(s => new MixedRecord(s.Difference, null, [], [1])
            {
                Error = new OutcomeCovariance(s.StandardError * s.StandardError),
            })],
            [], 1);
        if (model.Value is not { } fit)
            return model.Statement!;
        SampleSummary plain = SampleSummary.Of([.. series.Select(s => s.Difference).Order()])!;
        double? upper = fit.VarianceInterval("residual")?.Upper;
        return new PooledDifference(
            plain.Count, plain.Mean, plain.Lower95!.Value, plain.Upper95!.Value, Math.Sqrt(fit.Components[^1].Covariance.First),
            upper is { } u && double.IsFinite(u) ? Math.Sqrt(u) : null);
    }
}

/// <summary>A burial at which a bias is told.</summary>
/// <param name="StabilisationFactor">S of the fast litter (1), below 1.</param>
/// <param name="RatePerDay">k as the two-bag equations give it (d⁻¹), above 0.</param>
/// <param name="Days">Exposure (d), above 0.</param>
public readonly record struct TypicalBurial(double StabilisationFactor, double RatePerDay, double Days)
{
    /// <summary>
    /// What a k made with one S for both litters has to be multiplied by where S of the slow litter is higher by a difference:
    /// <see cref="TwoLitterIndex"/> asked twice, with the slow litter's loss as it is and its decomposable share a_s = H_s (1 - S) or
    /// H_s (1 - S - difference). Missing where the slow litter lost more than that: no k is large enough.
    /// </summary>
    /// <remarks>H and t cancel: with L = (1 - S)(1 - exp(-k t)) the factor is ln((1 - S - d)/(1 - S - d - L))/(k t).</remarks>
    public double? RateFactor(double difference)
    {
        double unstable = 1 - StabilisationFactor;
        RemainingFraction slow = Left(unstable * (1 - Math.Exp(-RatePerDay * Days)));
        Exposure exposure = new(Days, 0);
        return TwoLitterIndex.RatePerDay(Left(unstable - difference), slow, exposure).Value?.Value
            / TwoLitterIndex.RatePerDay(Left(unstable), slow, exposure).Value?.Value;

        static RemainingFraction Left(double loss) =>
            RemainingFraction.OfMean(1 - loss, AllHydrolysable, FractionBasis.Dry, default, default, MeasurementAssumptions.Default);
    }

    // any H gives the same factor; with 1 a loss is the decomposable share itself
    private static LitterLot AllHydrolysable { get; } = new(1, 0, AshFraction: 0);
}
