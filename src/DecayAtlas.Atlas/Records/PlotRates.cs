namespace DecayAtlas.Atlas.Records;

/// <summary>One plot in one campaign: what comparisons and variance shares take of it, and all that they take.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Campaign">The campaign.</param>
/// <param name="Treatment">The treatment; missing for untreated plots.</param>
/// <param name="Plot">The plot; missing where the contributor names none.</param>
/// <param name="LnRate">Natural logarithm of k in d⁻¹ over the accepted burials with k above 0.</param>
public sealed record PlotRates(string SiteKey, string Campaign, string? Treatment, string? Plot, SampleSummary LnRate);
