namespace DecayAtlas.Atlas.Covariates;

/// <summary>A released covariate of a site.</summary>
[Table(
    "covariates",
    "One row a site and covariate that is the same for every burial there: the value that the grids give the site, and how it was got.")]
public sealed record ReleasedCovariate : SampledRow
{
    public ReleasedCovariate()
    {
    }

    private ReleasedCovariate(CovariateValue value)
        : base(value)
    {
    }

    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("covariate", "Name of the covariate in the grid catalogue.", IsKey = true)]
    public required string Covariate { get; init; }

    [Column("value", "Value at the site; missing where the grids have none there, and for classes that are names.", Unit = "see unit")]
    public double? Value { get; init; }

    [Column("label", "Name of the class or map unit, for covariates that are names.")]
    public string? Label { get; init; }

    public static ReleasedCovariate Of(CovariateValue value) =>
        new(value) { SiteKey = value.SiteKey, Covariate = value.Covariate, Value = value.Value, Label = value.Label };
}
