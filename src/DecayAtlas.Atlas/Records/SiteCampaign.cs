namespace DecayAtlas.Atlas.Records;

/// <summary>One site in one campaign under one treatment: what its accepted burials, or means that stand for them, say
/// together.</summary>
/// <param name="Treatment">The treatment of its plots; missing for untreated ones.</param>
/// <param name="Burials">How many burials there are, whatever their use.</param>
/// <param name="RateSharedPerDay">Standard uncertainty of the mean k from what its burials share (d⁻¹); averaging does not shrink
/// it.</param>
/// <param name="BurialsAtPlateau">How many have no k because the slow litter is at its plateau, the rejected left out: each a k larger than
/// most, which no mean holds.</param>
/// <param name="LnRate">Natural logarithm of k in d⁻¹, over the accepted burials with k above 0.</param>
/// <param name="LnRateMean">Mean of ln k with the interval that holds replicate scatter and what is shared together; missing where the
/// burials give none.</param>
/// <param name="StabilisationMean">Mean S with such an interval, plots being the replicates as for ln k.</param>
/// <param name="StabilisationShared">Standard uncertainty of the mean S from what its burials share (1).</param>
public sealed record SiteCampaign(
    string SiteKey,
    string Campaign,
    string? Treatment,
    int Burials,
    DateOnly? FirstBuriedOn,
    DateOnly? LastRetrievedOn,
    SampleSummary? RatePerDay,
    SharedUncertainty? RateSharedPerDay,
    int BurialsAtPlateau,
    SampleSummary? LnRate,
    SiteMean? LnRateMean,
    SampleSummary? Stabilisation,
    SiteMean? StabilisationMean,
    SharedUncertainty? StabilisationShared)
{
    /// <summary>How many burials stand behind means whose k is 0 or below, the rejected left out: in no mean.</summary>
    public int BurialsOfMeansNotPositive { get; init; }

    /// <summary>How many burials are set aside for nothing but a fast litter short of its plateau.</summary>
    public int BurialsNotAtPlateau { get; init; }

    public EvidenceKind Evidence { get; init; } = EvidenceKind.Weighed;

    /// <summary>The contribution that brought it; the first where several did.</summary>
    public string ContributionId { get; init; } = "";
}
