namespace DecayAtlas.Atlas.Covariates;

[Table("campaign_covariates",
    "One row a site, campaign, treatment and covariate of burial_covariates: the mean over the burials whose ln k "
    + "site_campaigns averages. The model is trained on these.")]
public sealed record ReleasedCampaignCovariate
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public required string Campaign { get; init; }

    [Column("treatment", "The treatment of the plots; missing, or a word for a control, where they are untreated.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("covariate", "Name of the covariate.", IsKey = true)]
    public required string Covariate { get; init; }

    [Column("value_mean", "Mean over those burials that have a value.", "see unit")]
    public double? ValueMean { get; init; }

    [Column("value_min", "Smallest of their values.", "see unit")]
    public double? ValueMin { get; init; }

    [Column("value_max", "Largest of their values.", "see unit")]
    public double? ValueMax { get; init; }

    [Column("unit", "Unit of the value.")]
    public required string Unit { get; init; }

    [Column("burials", "Accepted burials with k above 0 that have a value; missing where withheld.")]
    public int? Burials { get; init; }

    [Column("is_withheld", "Whether the values are withheld, since the site is marked sensitive.")]
    public required bool IsWithheld { get; init; }

    /// <param name="values">Of the accepted burials with k above 0 that have one; <see langword="null"/> where withheld.</param>
    public static ReleasedCampaignCovariate Of(
        string siteKey, string campaign, string? treatment, string covariate, string unit, IReadOnlyList<double?>? values) => new()
        {
            SiteKey = siteKey,
            Campaign = campaign,
            Treatment = treatment,
            Covariate = covariate,
            ValueMean = values?.Average(),
            ValueMin = values?.Min(),
            ValueMax = values?.Max(),
            Unit = unit,
            Burials = values?.Count(v => v is not null),
            IsWithheld = values is null,
        };
}
