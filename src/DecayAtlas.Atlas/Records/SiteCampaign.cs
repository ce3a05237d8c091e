namespace DecayAtlas.Atlas.Records;

/// <summary>One site in one campaign under one treatment: what its accepted burials say together.</summary>
/// <param name="Treatment">The treatment of its plots; missing for untreated ones.</param>
/// <param name="Burials">How many burials there are, whatever their use.</param>
/// <param name="RateLotUncertaintyPerDay">Standard uncertainty of the mean k that comes from lot chemistry (d⁻¹); averaging does not shrink
/// it.</param>
/// <param name="CombinedRatePerDay">Mean k with the interval that holds replicate scatter and lot chemistry together (d⁻¹); missing where
/// the burials give none.</param>
/// <param name="LnRate">Natural logarithm of k in d⁻¹, over the accepted burials with k above 0.</param>
/// <param name="StabilisationLotUncertainty">Standard uncertainty of the mean S from lot chemistry (1).</param>
public sealed record SiteCampaign(
    string SiteKey,
    string Campaign,
    string? Treatment,
    int Burials,
    DateOnly? FirstBuriedOn,
    DateOnly? LastRetrievedOn,
    SampleSummary? RatePerDay,
    double? RateLotUncertaintyPerDay,
    SiteMean? CombinedRatePerDay,
    SampleSummary? LnRate,
    SampleSummary? Stabilisation,
    double? StabilisationLotUncertainty);
