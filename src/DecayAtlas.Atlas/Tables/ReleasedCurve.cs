namespace DecayAtlas.Atlas.Tables;

/// <summary>A released decay curve of one litter, or of both together, or why there is none.</summary>
[Table(
    "curves",
    "One row a decay curve, for every site, campaign and treatment that make a series, which is at least three retrievals a "
    + "week or more apart, the longest exposure twice the shortest: each litter fitted with three curves, and both together with "
    + "one S or one each. Fitted to the remaining fractions of bags that are accepted or set aside for the length of their "
    + "exposure alone.")]
public sealed record ReleasedCurve
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public required string Campaign { get; init; }

    [Column("treatment", "The treatment of the plots; missing for untreated ones.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("litter", "fast, slow, or both where they are fitted together.", IsKey = true)]
    public required string Litter { get; init; }

    [Column(
        "model",
        "single-exponential: w = exp(-k t). asymptotic: w = rest + (1 - rest) exp(-k t). double-exponential: w = p exp(-k t) + (1 "
        + "- p) exp(-k2 t), p the faster_share. one-s and two-s, both litters: w = 1 - H (1 - S)(1 - exp(-k t)) with one S, or one "
        + "each.", IsKey = true)]
    public required string Model { get; init; }

    [Column("status", "fitted or not-fitted.")]
    public string Status => Statement is null ? "fitted" : "not-fitted";

    [Column("statement", "Why there is no fit.")]
    public string? Statement { get; init; }

    [Column("bags", "Bags that the curve was fitted to.")]
    public required int Bags { get; init; }

    [Column("retrievals", "Retrievals among them; exposures less than a week apart are one.")]
    public required int Retrievals { get; init; }

    [Column("shortest_days", "Shortest exposure.", Unit = "d")]
    public required int ShortestDays { get; init; }

    [Column("longest_days", "Longest exposure.", Unit = "d")]
    public required int LongestDays { get; init; }

    [Column(
        "k_per_day",
        "Decay rate: of the litter; of the faster pool in double-exponential; of the slow litter in one-s and two-s.", Unit = "d-1")]
    public double? RatePerDay { get; init; }

    [Column("k_se_per_day", "Standard error of k; missing where it stands on the edge of what is possible.", Unit = "d-1")]
    public double? RateErrorPerDay { get; init; }

    [Column("k_lower95_per_day", "Lower end of the 95 % profile-likelihood interval of k; missing where the data set none.", Unit = "d-1")]
    public double? RateLower95PerDay { get; init; }

    [Column("k_upper95_per_day", "Upper end of that interval.", Unit = "d-1")]
    public double? RateUpper95PerDay { get; init; }

    [Column("k_fast_per_day", "Rate of the fast litter in one-s and two-s.", Unit = "d-1")]
    public double? FastRatePerDay { get; init; }

    [Column("k_fast_se_per_day", "Standard error of k_fast; missing where it stands on the edge of what is possible.", Unit = "d-1")]
    public double? FastRateErrorPerDay { get; init; }

    [Column(
        "k_fast_lower95_per_day",
        "Lower end of the 95 % profile-likelihood interval of k_fast; missing where the data set none.", Unit = "d-1")]
    public double? FastRateLower95PerDay { get; init; }

    [Column("k_fast_upper95_per_day", "Upper end of that interval.", Unit = "d-1")]
    public double? FastRateUpper95PerDay { get; init; }

    [Column("k2_per_day", "Rate of the slower pool in double-exponential.", Unit = "d-1")]
    public double? SecondRatePerDay { get; init; }

    [Column("k2_se_per_day", "Standard error of k2; missing where it stands on the edge of what is possible.", Unit = "d-1")]
    public double? SecondRateErrorPerDay { get; init; }

    [Column(
        "k2_lower95_per_day",
        "Lower end of the 95 % profile-likelihood interval of k2; missing where the data set none.", Unit = "d-1")]
    public double? SecondRateLower95PerDay { get; init; }

    [Column("k2_upper95_per_day", "Upper end of that interval.", Unit = "d-1")]
    public double? SecondRateUpper95PerDay { get; init; }

    [Column("rest", "Share of mass that does not decay on this time scale, in asymptotic.", Unit = "1")]
    public double? Rest { get; init; }

    [Column("rest_se", "Standard error of rest; missing where it stands on the edge of what is possible.", Unit = "1")]
    public double? RestError { get; init; }

    [Column("rest_lower95", "Lower end of the 95 % profile-likelihood interval of rest; missing where the data set none.", Unit = "1")]
    public double? RestLower95 { get; init; }

    [Column("rest_upper95", "Upper end of that interval.", Unit = "1")]
    public double? RestUpper95 { get; init; }

    [Column("faster_share", "Share of mass in the faster pool, in double-exponential.", Unit = "1")]
    public double? FasterShare { get; init; }

    [Column("faster_share_se", "Standard error of faster_share; missing where it stands on the edge of what is possible.", Unit = "1")]
    public double? FasterShareError { get; init; }

    [Column(
        "faster_share_lower95",
        "Lower end of the 95 % profile-likelihood interval of faster_share; missing where the data set none.", Unit = "1")]
    public double? FasterShareLower95 { get; init; }

    [Column("faster_share_upper95", "Upper end of that interval.", Unit = "1")]
    public double? FasterShareUpper95 { get; init; }

    [Column("s", "Stabilisation factor: of both litters in one-s, of the fast litter in two-s.", Unit = "1")]
    public double? Stabilisation { get; init; }

    [Column("s_se", "Standard error of s; missing where it stands on the edge of what is possible.", Unit = "1")]
    public double? StabilisationError { get; init; }

    [Column("s_lower95", "Lower end of the 95 % profile-likelihood interval of s; missing where the data set none.", Unit = "1")]
    public double? StabilisationLower95 { get; init; }

    [Column("s_upper95", "Upper end of that interval.", Unit = "1")]
    public double? StabilisationUpper95 { get; init; }

    [Column("s_slow", "Stabilisation factor of the slow litter in two-s.", Unit = "1")]
    public double? SlowStabilisation { get; init; }

    [Column("s_slow_se", "Standard error of s_slow; missing where it stands on the edge of what is possible.", Unit = "1")]
    public double? SlowStabilisationError { get; init; }

    [Column("s_slow_lower95", "Lower end of the 95 % profile-likelihood interval of s_slow; missing where the data set none.", Unit = "1")]
    public double? SlowStabilisationLower95 { get; init; }

    [Column("s_slow_upper95", "Upper end of that interval.", Unit = "1")]
    public double? SlowStabilisationUpper95 { get; init; }

    [Column("residual_sd", "Standard deviation of the remaining fraction about the curve.", Unit = "1")]
    public double? ResidualSd { get; init; }

    [Column("aicc", "Second-order information criterion; missing where there are too few bags for it.", Unit = "1")]
    public double? Aicc { get; init; }

    [Column("weight", "Akaike weight among the curves of the same litter, or of both.", Unit = "1")]
    public double? Weight { get; init; }

    [Column(
        "one_s_p",
        "In one-s: probability that a second S would fit better by so much if both litters shared one (F test of the extra sum of "
        + "squares).", Unit = "1")]
    public double? SharedStabilisationP { get; init; }

    [Column("two_bag_k_per_day", "Beside it: mean k of the accepted burials by the two-bag equations.", Unit = "d-1")]
    public double? TwoBagRatePerDay { get; init; }

    [Column("two_bag_burials", "Burials in that mean.")]
    public required int TwoBagBurials { get; init; }

    public static ReleasedCurve Of(SiteCurve curve) => new()
    {
        SiteKey = curve.SiteKey,
        Campaign = curve.Campaign,
        Treatment = curve.Treatment,
        Litter = curve.Litter,
        Model = curve.Model,
        Statement = curve.Statement,
        Bags = curve.Points,
        Retrievals = curve.Retrievals,
        ShortestDays = curve.ShortestDays,
        LongestDays = curve.LongestDays,
        RatePerDay = curve.Parameter(SiteCurve.K)?.Value,
        RateErrorPerDay = curve.Parameter(SiteCurve.K)?.StandardError,
        RateLower95PerDay = curve.Parameter(SiteCurve.K)?.Lower95,
        RateUpper95PerDay = curve.Parameter(SiteCurve.K)?.Upper95,
        FastRatePerDay = curve.Parameter(SiteCurve.KFast)?.Value,
        FastRateErrorPerDay = curve.Parameter(SiteCurve.KFast)?.StandardError,
        FastRateLower95PerDay = curve.Parameter(SiteCurve.KFast)?.Lower95,
        FastRateUpper95PerDay = curve.Parameter(SiteCurve.KFast)?.Upper95,
        SecondRatePerDay = curve.Parameter(SiteCurve.K2)?.Value,
        SecondRateErrorPerDay = curve.Parameter(SiteCurve.K2)?.StandardError,
        SecondRateLower95PerDay = curve.Parameter(SiteCurve.K2)?.Lower95,
        SecondRateUpper95PerDay = curve.Parameter(SiteCurve.K2)?.Upper95,
        Rest = curve.Parameter(SiteCurve.Rest)?.Value,
        RestError = curve.Parameter(SiteCurve.Rest)?.StandardError,
        RestLower95 = curve.Parameter(SiteCurve.Rest)?.Lower95,
        RestUpper95 = curve.Parameter(SiteCurve.Rest)?.Upper95,
        FasterShare = curve.Parameter(SiteCurve.FasterShare)?.Value,
        FasterShareError = curve.Parameter(SiteCurve.FasterShare)?.StandardError,
        FasterShareLower95 = curve.Parameter(SiteCurve.FasterShare)?.Lower95,
        FasterShareUpper95 = curve.Parameter(SiteCurve.FasterShare)?.Upper95,
        Stabilisation = curve.Parameter(SiteCurve.S)?.Value,
        StabilisationError = curve.Parameter(SiteCurve.S)?.StandardError,
        StabilisationLower95 = curve.Parameter(SiteCurve.S)?.Lower95,
        StabilisationUpper95 = curve.Parameter(SiteCurve.S)?.Upper95,
        SlowStabilisation = curve.Parameter(SiteCurve.SSlow)?.Value,
        SlowStabilisationError = curve.Parameter(SiteCurve.SSlow)?.StandardError,
        SlowStabilisationLower95 = curve.Parameter(SiteCurve.SSlow)?.Lower95,
        SlowStabilisationUpper95 = curve.Parameter(SiteCurve.SSlow)?.Upper95,
        ResidualSd = curve.ResidualSd,
        Aicc = curve.Aicc,
        Weight = curve.Weight,
        SharedStabilisationP = curve.SharedStabilisationP,
        TwoBagRatePerDay = curve.TwoBagRatePerDay,
        TwoBagBurials = curve.TwoBagBurials,
    };
}
