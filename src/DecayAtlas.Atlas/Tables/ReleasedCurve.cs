namespace DecayAtlas.Atlas.Tables;

[Table("curves",
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

    [Column("treatment", "The treatment of the plots; missing, or a word for a control, where they are untreated.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("litter", "fast, slow, or both where they are fitted together.", IsKey = true)]
    public required string Litter { get; init; }

    [Column("model",
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

    [Column("shortest_days", "Shortest exposure.", "d")]
    public required int ShortestDays { get; init; }

    [Column("longest_days", "Longest exposure.", "d")]
    public required int LongestDays { get; init; }

    [ParameterColumns("k",
        "Decay rate: of the litter; of the faster pool in double-exponential; of the slow litter in one-s and two-s.", "d-1", "_per_day")]
    public ReleasedParameter RatePerDay { get; init; } = new();

    [ParameterColumns("k_fast", "Rate of the fast litter in one-s and two-s.", "d-1", "_per_day")]
    public ReleasedParameter FastRatePerDay { get; init; } = new();

    [ParameterColumns("k2", "Rate of the slower pool in double-exponential.", "d-1", "_per_day")]
    public ReleasedParameter SecondRatePerDay { get; init; } = new();

    [ParameterColumns("rest", "Share of mass that does not decay on this time scale, in asymptotic.", "1")]
    public ReleasedParameter Rest { get; init; } = new();

    [ParameterColumns("faster_share", "Share of mass in the faster pool, in double-exponential.", "1")]
    public ReleasedParameter FasterShare { get; init; } = new();

    [ParameterColumns("s", "Stabilisation factor: of both litters in one-s, of the fast litter in two-s.", "1")]
    public ReleasedParameter Stabilisation { get; init; } = new();

    [ParameterColumns("s_slow", "Stabilisation factor of the slow litter in two-s.", "1")]
    public ReleasedParameter SlowStabilisation { get; init; } = new();

    [Column("residual_sd", "Standard deviation of the remaining fraction about the curve.", "1")]
    public double? ResidualSd { get; init; }

    [Column("aicc", "Second-order information criterion; missing where there are too few bags for it.", "1")]
    public double? Aicc { get; init; }

    [Column("weight", "Akaike weight among the curves of the same litter, or of both.", "1")]
    public double? Weight { get; init; }

    [Column("one_s_p",
        "In one-s: probability that a second S would fit better by so much if both litters shared one (F test of the extra sum of "
        + "squares).", "1")]
    public double? SharedStabilisationP { get; init; }

    [Column("two_bag_k_per_day", "Beside it: mean k of the accepted burials by the two-bag equations.", "d-1")]
    public double? TwoBagRatePerDay { get; init; }

    [Column("two_bag_burials", "Burials in that mean.")]
    public required int TwoBagBurials { get; init; }

    [Column("h_fast", "In one-s and two-s: H of the fast litter, as S is reckoned from it; mean over its bags.", "1")]
    public double? FastHydrolysable { get; init; }

    [Column("h_fast_u", "Its standard uncertainty from the lot.", "1")]
    public double? FastHydrolysableUncertainty { get; init; }

    [Column("h_slow", "In one-s and two-s: H of the slow litter, likewise.", "1")]
    public double? SlowHydrolysable { get; init; }

    [Column("h_slow_u", "Its standard uncertainty from the lot.", "1")]
    public double? SlowHydrolysableUncertainty { get; init; }

    [Column("apart_days",
        "In asymptotic of the slow litter: shortest exposure of the retrieval that is set apart for the table agreement, the one nearest "
        + "to 90 days that has an accepted two-bag k. The two numbers that follow share no slow bag.", "d")]
    public int? ApartDays { get; init; }

    [Column("apart_two_bag_k_per_day", "Mean two-bag k of the accepted burials of that retrieval alone.", "d-1")]
    public double? ApartTwoBagRatePerDay { get; init; }

    [Column("apart_two_bag_burials", "Burials in that mean.")]
    public int? ApartTwoBagBurials { get; init; }

    [ParameterColumns("apart_k", "Rate of the same curve fitted without any bag of that retrieval.", "d-1", "_per_day")]
    public ReleasedParameter ApartRatePerDay { get; init; } = new();

    [Column("apart_statement", "Why there is no such pair.")]
    public string? ApartStatement { get; init; }
}
