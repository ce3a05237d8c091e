namespace DecayAtlas.Pipeline.Flags;

/// <summary>All that a flag may look at, and the flags with their limits. Lists are in key order.</summary>
public sealed record FlagInputs(
    IReadOnlyList<Contribution> Contributions,
    IReadOnlyList<Site> Sites,
    IReadOnlyList<Bag> Bags,
    IReadOnlyList<Burial> Burials,
    IReadOnlyList<ReleasedCovariate> Covariates,
    LotConsensus Lots,
    CountryOutlines? Countries,
    IReadOnlyList<FlagDefinition> Flags)
{
    /// <summary>Means that stand for burials.</summary>
    public IReadOnlyList<SentResult> Results { get; init; } = [];
}
