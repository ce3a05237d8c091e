namespace DecayAtlas.Atlas.Covariates;

/// <summary>A covariate of a site, or of a burial there; of a sensitive site it is withheld before it goes out.</summary>
[Table("covariates",
    "One row a site and covariate that is the same for every burial there: the value that the grids give the site, and how it was got.")]
public sealed record ReleasedCovariate : SampledRow
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("covariate", "Name of the covariate in the grid catalogue.", IsKey = true)]
    public required string Covariate { get; init; }

    [Column("value", "Value at the site; missing where the grids have none there, and for classes that are names.", "see unit")]
    public double? Value { get; init; }

    [Column("is_class", "Whether the value is the code of a class, or stands for its name, and is no quantity.")]
    public bool IsClass { get; init; }

    [Column("label", "Name of the class or map unit, for covariates that are names.")]
    public string? Label { get; init; }

    [Column("label_iri", "Concept of an open vocabulary that comes close to the label, where the catalogue says whose words labels are.")]
    public string? LabelIri { get; init; }

    public bool IsKnown => Value is not null || Label is not null;

    /// <summary>What may be known of it at a sensitive site: several grids sampled at one point, each to full precision, single out the
    /// cell it lies in.</summary>
    public ReleasedCovariate Withheld() => this with
    {
        Value = null,
        Label = null,
        LabelIri = null,
        StandardDeviation = null,
        ValidShare = null,
        CoveredShare = null,
        DistanceMetres = null,
        Rule = "",
        Layers = null,
        Status = "withheld",
    };
}
