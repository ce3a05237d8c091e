namespace DecayAtlas.Pages.Reading;

/// <summary>One released decay curve of one litter, or of both together.</summary>
/// <param name="Litter">fast, slow or both.</param>
/// <param name="Model">Name of the curve.</param>
/// <param name="Statement">Why there is no fit; missing where there is one.</param>
/// <param name="Rate">k (d⁻¹).</param>
/// <param name="RateError">Its standard error (d⁻¹).</param>
/// <param name="SecondRate">k of the slower pool (d⁻¹).</param>
/// <param name="Rest">Share that does not decay on this time scale (1).</param>
/// <param name="FasterShare">Share of the faster pool (1).</param>
/// <param name="Aicc">Second-order information criterion.</param>
/// <param name="Weight">Akaike weight (1).</param>
public sealed record CurveFacts(
    string Litter, string Model, string? Statement, double? Rate, double? RateError, double? SecondRate, double? Rest, double? FasterShare, double? Aicc, double? Weight);

/// <summary>What was left of one bag of a series.</summary>
public sealed record SeriesPoint(string Litter, int Days, double Remaining, bool IsFitted);

/// <summary>Several retrievals of one site in one campaign under one treatment, and the curves fitted to them.</summary>
/// <param name="TwoBagRatePerDay">Mean k of the accepted burials by the two-bag equations (d⁻¹).</param>
/// <param name="OneStabilisationP">Probability that two S would fit better by so much if both litters shared one; missing where it was not tested.</param>
public sealed record SeriesFacts(
    string SiteKey, string Campaign, string? Treatment, int Retrievals, int ShortestDays, int LongestDays, double? TwoBagRatePerDay, double? OneStabilisationP,
    IReadOnlyList<CurveFacts> Curves, IReadOnlyList<SeriesPoint> Points)
{
    /// <summary>The curve of a litter with the lowest AICc; missing where none has one.</summary>
    public CurveFacts? ChosenOf(string litter) => Curves.Where(c => c.Litter == litter && c.Aicc is not null).MinBy(c => c.Aicc);
}
