namespace DecayAtlas.Contributions.Reading;

/// <summary>One valid contribution: every row passed every rule of the schema.</summary>
public sealed record Contribution(
    ContributionHeader Header,
    IReadOnlyList<SiteRow> Sites,
    IReadOnlyList<LotRow> Lots,
    IReadOnlyList<BagRow> Bags,
    IReadOnlyList<SampleRow> Samples);
