namespace DecayAtlas.Atlas.Covariates;

[Table("burial_covariates",
    "One row a burial and covariate that differs between burials of one site: soil layers weighted to the bag's depth, and "
    + "months or dated series weighted by the days it was buried.")]
public sealed record ReleasedBurialCovariate : SampledRow
{
    public ReleasedBurialCovariate()
    {
    }

    private ReleasedBurialCovariate(SampledRow sampled) : base(sampled)
    {
    }

    [Column("contribution_id", "Contribution of the burial.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("burial_id", "The burial.", IsKey = true)]
    public required string BurialId { get; init; }

    [Column("site_key", "Its site.")]
    public required string SiteKey { get; init; }

    [Column("covariate", "Name of the covariate in the grid catalogue.", IsKey = true)]
    public required string Covariate { get; init; }

    [Column("value", "What the bag felt; missing where status says why.", "see unit")]
    public double? Value { get; init; }

    public static ReleasedBurialCovariate Of(string contributionId, string burialId, ReleasedCovariate felt) => new(felt)
    {
        ContributionId = contributionId,
        BurialId = burialId,
        SiteKey = felt.SiteKey,
        Covariate = felt.Covariate,
        Value = felt.Value,
    };
}
