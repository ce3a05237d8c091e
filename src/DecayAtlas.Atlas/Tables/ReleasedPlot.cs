namespace DecayAtlas.Atlas.Tables;

[Table("plots",
    "One row a site, campaign, treatment, plot and kind of evidence: ln k of its accepted burials with k above 0, summed up. Variance "
    + "shares and comparisons are made from this table.")]
public sealed record ReleasedPlot
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public required string Campaign { get; init; }

    [Column("treatment", "The treatment; missing for untreated plots.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("plot", "The plot; missing where the contributor names none.", IsKey = true)]
    public string? Plot { get; init; }

    [Column("evidence", "weighed, summarised or reported, as in site_campaigns.", IsKey = true)]
    public string Evidence { get; init; } = AtlasCode.Of(EvidenceKind.Weighed);

    [Column("ln_k_burials", "Accepted burials with k above 0.")]
    public required int LnRateBurials { get; init; }

    [Column("ln_k_mean", "Mean of ln k.", "ln(d-1)")]
    public required double LnRateMean { get; init; }

    [Column("ln_k_sd", "Standard deviation of ln k between burials; missing for a single one.", "ln(d-1)")]
    public double? LnRateSd { get; init; }

    public bool IsUntreated => Records.Treatment.IsUntreated(Treatment);

    /// <summary>Sum of squares of ln k about its mean.</summary>
    public double LnRateSumOfSquares => LnRateSd is { } sd ? sd * sd * (LnRateBurials - 1) : 0;

    /// <summary>The same without some of its burials; <see langword="null"/> where none is left.</summary>
    /// <param name="lnRates">Their ln k (k in d⁻¹).</param>
    public ReleasedPlot? Without(IReadOnlyList<double> lnRates) =>
        new SampleSummary(LnRateBurials, LnRateMean, LnRateSd, null, null).Without(lnRates) is { } left
            ? this with { LnRateBurials = left.Count, LnRateMean = left.Mean, LnRateSd = left.Sd } : null;

    /// <summary>One row a plot, in key order.</summary>
    /// <param name="burials">What counts, with its ln k (k in d⁻¹).</param>
    public static IEnumerable<ReleasedPlot> Of(
        IEnumerable<(string SiteKey, string Campaign, string? Treatment, string? Plot, double LnRate)> burials) =>
        burials.GroupBy(b => (b.SiteKey, b.Campaign, b.Treatment, b.Plot), b => b.LnRate)
            .OrderBy(g => g.Key.SiteKey, StringComparer.Ordinal).ThenBy(g => g.Key.Campaign, StringComparer.Ordinal)
            .ThenBy(g => g.Key.Treatment, StringComparer.Ordinal).ThenBy(g => g.Key.Plot, StringComparer.Ordinal)
            .Select(g => Of(g.Key.SiteKey, g.Key.Campaign, g.Key.Treatment, g.Key.Plot, SampleSummary.Of([.. g])!));

    public static ReleasedPlot Of(string siteKey, string campaign, string? treatment, string? plot, SampleSummary lnRate) => new()
    {
        SiteKey = siteKey,
        Campaign = campaign,
        Treatment = treatment,
        Plot = plot,
        LnRateBurials = lnRate.Count,
        LnRateMean = lnRate.Mean,
        LnRateSd = lnRate.Sd,
    };
}
