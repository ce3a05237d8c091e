namespace DecayAtlas.Atlas.Tables;

[Table("plots",
    "ln k and S of accepted burials, summed up: one row a site, campaign, treatment, plot, kind of evidence, set of shared errors and "
    + "state of k. Every answer is made from this table, with shared_errors.")]
public sealed record ReleasedPlot
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public required string Campaign { get; init; }

    [Column("treatment", "The treatment; missing, or a word for a control, in untreated plots.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("plot", "The plot; missing where the contributor names none.", IsKey = true)]
    public string? Plot { get; init; }

    [Column("evidence", "weighed, summarised or reported, as in site_campaigns.", IsKey = true)]
    public string Evidence { get; init; } = AtlasCode.Of(EvidenceKind.Weighed);

    [Column("error_set",
        "The lots and batches of its bags, joined by |: burials with the same ones share what shared_errors says.", IsKey = true)]
    public string ErrorSet { get; init; } = "";

    [Column("k_state",
        "known: burials with k above 0; at-least: one burial whose slow litter is at its plateau, suspect for nothing else; none: burials "
        + "that have an S and no k above 0.", IsKey = true)]
    public string RateState { get; init; } = Known;

    [Column("burial_id", "The burial, with its contribution, where k is known to be at least a number; else missing.", IsKey = true)]
    public string? BurialId { get; init; }

    [Column("ln_k_burials", "Accepted burials with k above 0.")]
    public required int LnRateBurials { get; init; }

    [Column("ln_k_mean", "Mean of ln k; missing where k is not known.", "ln(d-1)")]
    public double? LnRateMean { get; init; }

    [Column("ln_k_sd", "Standard deviation of ln k between burials; missing for a single one.", "ln(d-1)")]
    public double? LnRateSd { get; init; }

    [Column("ln_k_at_least", "ln of the k that the burial has at least, one-sided with 95 % confidence.", "ln(d-1)")]
    public double? LnRateAtLeast { get; init; }

    [Column("s_burials", "Burials with S: accepted, or at their plateau.")]
    public int StabilisationBurials { get; init; }

    [Column("s_mean", "Mean of S; missing where there is none.", "1")]
    public double? StabilisationMean { get; init; }

    [Column("s_sd", "Standard deviation of S between burials; missing for a single one.", "1")]
    public double? StabilisationSd { get; init; }

    [Column("ln_k_s_cov", "Covariance of ln k and S between burials; missing for a single one.", "1")]
    public double? LnRateStabilisationCovariance { get; init; }

    [Column("exposure_days_mean", "Days from burial to retrieval, mean of its burials; missing where they are not known.", "d")]
    public double? ExposureDaysMean { get; init; }

    [Column("ln_k_u_bag", "Standard uncertainty of ln k of one burial from its own weighings, at the mean k of the site.", "1")]
    public double? LnRateUncertaintyBag { get; init; }

    [Column("s_u_bag", "So of S.", "1")]
    public double? StabilisationUncertaintyBag { get; init; }

    [Column("ln_k_s_cov_bag", "Covariance of both, through the fast bag.", "1")]
    public double? LnRateStabilisationCovarianceBag { get; init; }

    /// <summary>How many burials the row stands for.</summary>
    public int Burials => Math.Max(LnRateBurials, Math.Max(StabilisationBurials, LnRateAtLeast is null ? 0 : 1));

    public bool IsUntreated => Records.Treatment.IsUntreated(Treatment);

    public const string Known = "known", AtLeast = "at-least", None = "none";

    /// <summary>Sums of squares and products of ln k and S about their means.</summary>
    public (double LnRate, double Product, double Stabilisation) SumsOfSquares => (
        Square(LnRateSd) * (LnRateBurials - 1), (LnRateStabilisationCovariance ?? 0) * (LnRateBurials - 1),
        Square(StabilisationSd) * (StabilisationBurials - 1));

    /// <summary>The same without some of its burials; <see langword="null"/> where none is left. Exact but for rounding.</summary>
    /// <param name="burials">Their ln k (k in d⁻¹) and S, as far as the row counts them, and their days.</param>
    public ReleasedPlot? Without(IReadOnlyList<(double? LnRate, double? Stabilisation, double? Days)> burials)
    {
        if (burials.Count == 0)
            return this;
        double[] rates = [.. burials.Select(b => LnRateMean is null ? null : b.LnRate).OfType<double>()];
        double[] others = [.. burials.Select(b => StabilisationMean is null ? null : b.Stabilisation).OfType<double>()];
        SampleSummary? lnRate = Left(LnRateBurials, LnRateMean, LnRateSd, rates);
        SampleSummary? s = Left(StabilisationBurials, StabilisationMean, StabilisationSd, others);
        return lnRate is null && s is null ? null : this with
        {
            LnRateBurials = lnRate?.Count ?? 0,
            LnRateMean = lnRate?.Mean,
            LnRateSd = lnRate?.Sd,
            StabilisationBurials = s?.Count ?? 0,
            StabilisationMean = s?.Mean,
            StabilisationSd = s?.Sd,
            ExposureDaysMean = Burials > burials.Count && burials.All(b => b.Days is not null)
                ? (Burials * ExposureDaysMean - burials.Sum(b => b.Days)) / (Burials - burials.Count) : ExposureDaysMean,
            LnRateStabilisationCovariance = lnRate is { Count: > 1 } && s?.Count == lnRate.Count && LnRateStabilisationCovariance is { } c
                ? ((LnRateBurials - 1) * c - burials.Sum(b => Product(b.LnRate!.Value, b.Stabilisation!.Value))
                    - lnRate.Count * Product(lnRate.Mean, s.Mean)) / (lnRate.Count - 1)
                : null,
        };

        double Product(double lnRate, double stabilisation) =>
            (lnRate - LnRateMean!.Value) * (stabilisation - StabilisationMean!.Value);

        static SampleSummary? Left(int count, double? mean, double? sd, double[] without) =>
            mean is { } known ? new SampleSummary(count, known, sd, null, null).Without(without) : null;
    }

    /// <summary>Rows of burials, in key order: burials with k above 0 together, the others with an S together, each at its plateau
    /// alone.</summary>
    /// <param name="errors">Of a series and set of shared errors.</param>
    public static IEnumerable<ReleasedPlot> Of(IEnumerable<PlotBurial> burials, Func<PlotBurial, KnownErrors?> errors) =>
        burials.GroupBy(b => (b.SiteKey, b.Campaign, b.Treatment, b.Plot, b.ErrorSet, b.RateState,
                BurialId: b.RateState == AtLeast ? b.BurialId : null))
            .OrderBy(g => g.Key.SiteKey, StringComparer.Ordinal).ThenBy(g => g.Key.Campaign, StringComparer.Ordinal)
            .ThenBy(g => g.Key.Treatment, StringComparer.Ordinal).ThenBy(g => g.Key.Plot, StringComparer.Ordinal)
            .ThenBy(g => g.Key.ErrorSet, StringComparer.Ordinal).ThenByDescending(g => g.Key.RateState == Known)
            .ThenBy(g => g.Key.RateState, StringComparer.Ordinal).ThenBy(g => g.Key.BurialId, StringComparer.Ordinal)
            .Select(g => Of([.. g], errors(g.First())));

    private static ReleasedPlot Of(PlotBurial[] burials, KnownErrors? errors)
    {
        PlotBurial first = burials[0];
        SampleSummary? lnRate = SampleSummary.Of([.. burials.Select(b => b.LnRate).OfType<double>()]);
        SampleSummary? s = SampleSummary.Of([.. burials.Select(b => b.Stabilisation).OfType<double>()]);
        return new ReleasedPlot
        {
            SiteKey = first.SiteKey,
            Campaign = first.Campaign,
            Treatment = first.Treatment,
            Plot = first.Plot,
            ErrorSet = first.ErrorSet,
            RateState = first.RateState,
            BurialId = first.RateState == AtLeast ? first.BurialId : null,
            LnRateBurials = lnRate?.Count ?? 0,
            LnRateMean = lnRate?.Mean,
            LnRateSd = lnRate?.Sd,
            LnRateAtLeast = first.LnRateAtLeast,
            StabilisationBurials = s?.Count ?? 0,
            StabilisationMean = s?.Mean,
            StabilisationSd = s?.Sd,
            LnRateStabilisationCovariance = lnRate is { Count: > 1 } && s?.Count == lnRate.Count
                ? burials.Sum(b => (b.LnRate!.Value - lnRate.Mean) * (b.Stabilisation!.Value - s.Mean)) / (lnRate.Count - 1) : null,
            ExposureDaysMean = burials.Average(b => b.ExposureDays),
            LnRateUncertaintyBag = lnRate is null ? null : Math.Sqrt(errors?.LnRateVariance ?? 0),
            StabilisationUncertaintyBag = s is null ? null : Math.Sqrt(errors?.StabilisationVariance ?? 0),
            LnRateStabilisationCovarianceBag = lnRate is null || s is null ? null : errors?.Covariance ?? 0,
        };
    }

    private static double Square(double? x) => x * x ?? 0;
}

/// <summary>A burial as it is summed up.</summary>
/// <param name="BurialId">With its contribution.</param>
/// <param name="LnRate">Where k is above 0 (k in d⁻¹).</param>
/// <param name="LnRateAtLeast">Where its slow litter is at its plateau and something bounds k.</param>
/// <param name="ExposureDays">From burial to retrieval.</param>
public readonly record struct PlotBurial(
    string SiteKey, string Campaign, string? Treatment, string? Plot, string BurialId, string ErrorSet, double? LnRate,
    double? LnRateAtLeast, double? Stabilisation, double? ExposureDays = null)
{
    public string RateState => LnRate is not null ? ReleasedPlot.Known
        : LnRateAtLeast is not null ? ReleasedPlot.AtLeast : ReleasedPlot.None;
}
