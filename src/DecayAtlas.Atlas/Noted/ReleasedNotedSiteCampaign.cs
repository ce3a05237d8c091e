namespace DecayAtlas.Atlas.Noted;

[Table("noted_site_campaigns",
    "One row a site, campaign and treatment whose means in site_campaigns rest on noted burials: the same means without these. "
    + "Missing where nothing is left.")]
public sealed record ReleasedNotedSiteCampaign
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public required string Campaign { get; init; }

    [Column("treatment", "The treatment of the plots; missing, or a word for a control, where they are untreated.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("noted_burials", "Accepted burials with k or S that are noted, and left out of this row.")]
    public required int NotedBurials { get; init; }

    [Column("k_burials", "Accepted burials that have a k and are not noted.")]
    public required int RateBurials { get; init; }

    [Column("k_mean_per_day", "Mean k of these.", "d-1")]
    public double? RateMeanPerDay { get; init; }

    [Column("ln_k_burials", "Those with k above 0.")]
    public required int LnRateBurials { get; init; }

    [Column("ln_k_mean", "Mean of their ln k.", "ln(d-1)")]
    public double? LnRateMean { get; init; }

    [Column("ln_k_sd", "Standard deviation of ln k between them; missing for a single one.", "ln(d-1)")]
    public double? LnRateSd { get; init; }

    [Column("s_burials", "Accepted burials that have an S and are not noted.")]
    public required int StabilisationBurials { get; init; }

    [Column("s_mean", "Mean S of these.", "1")]
    public double? StabilisationMean { get; init; }

    [Column("s_sd", "Standard deviation of S between them; missing for a single one.", "1")]
    public double? StabilisationSd { get; init; }
}
