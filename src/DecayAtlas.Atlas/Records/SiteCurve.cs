namespace DecayAtlas.Atlas.Records;

/// <summary>One decay curve of one site in one campaign under one treatment, fitted to several retrievals, or why it was not.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Campaign">The campaign.</param>
/// <param name="Treatment">The treatment of its plots; missing for untreated ones.</param>
/// <param name="Litter">fast, slow, or both fitted together.</param>
/// <param name="Model">Name of the curve.</param>
/// <param name="Points">Bags fitted.</param>
/// <param name="Retrievals">Different exposures among them.</param>
/// <param name="ShortestDays">Shortest exposure (d).</param>
/// <param name="LongestDays">Longest exposure (d).</param>
/// <param name="Statement">Why there is no fit; missing where there is one.</param>
/// <param name="Parameters">By the letter that the released columns carry.</param>
/// <param name="ResidualSd">Standard deviation of the remaining fraction about the curve (1).</param>
/// <param name="Aicc">Second-order information criterion.</param>
/// <param name="Weight">Akaike weight among the curves of the same litter.</param>
/// <param name="SharedStabilisationP">Probability of the extra sum of squares of a second S if both litters shared one.</param>
/// <param name="TwoBagRatePerDay">Mean k of the accepted burials by the two-bag equations (d⁻¹).</param>
/// <param name="TwoBagBurials">How many they are.</param>
public sealed record SiteCurve(
    string SiteKey, string Campaign, string? Treatment, string Litter, string Model,
    int Points, int Retrievals, int ShortestDays, int LongestDays, string? Statement,
    IReadOnlyDictionary<string, FittedParameter> Parameters,
    double? ResidualSd, double? Aicc, double? Weight, double? SharedStabilisationP,
    double? TwoBagRatePerDay, int TwoBagBurials)
{
    /// <summary>Letters of the parameters: rate, rate of the fast litter beside it, second rate, rest, share of the faster pool, S, S of
    /// the slow litter.</summary>
    public const string K = "k", KFast = "k_fast", K2 = "k2", Rest = "rest", FasterShare = "faster_share", S = "s", SSlow = "s_slow";

    public FittedParameter? Parameter(string letter) => Parameters.GetValueOrDefault(letter);
}
