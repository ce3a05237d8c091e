using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>Whether the litter lay as long as the protocol asks, and as long as its decay asks.</summary>
internal static class ExposureFlags
{
    public static IReadOnlyList<FlagDefinition> All =>
    [
        new ExposureShort(), new ExposureLong(), new PlateauNotReached(),
    ];
}

internal sealed record ExposureShort() : BagFlag(
    Protocol, "exposure-short", Suspect,
    "The bag lay shorter than the protocol asks, so that its numbers do not compare. Whether its litter had time enough, \"dug up "
    + "too early\" says (plateau-not-reached).",
    "exposure < exposure_days.min.",
    "Check the dates. If they are right, leave the next bags longer.")
{
    [Setting("exposure_days/min", "a whole number of days", "Shortest exposure")]
    public int ExposureMinDays { get; init; } = (int)UsualRange.ExposureDays.Least;

    protected override Grounds? Judge(Bag bag) =>
        bag.ExposureDays is > 0 and var days && days < ExposureMinDays
            ? new($"The bag lay {days} days.", days, ExposureMinDays, "d") : null;

    internal override Grounds? JudgeResult(SentResult result) => result.Row.Exposure is > 0 and var days && days < ExposureMinDays
        ? new($"The bags lay {days} days.", days, ExposureMinDays, "d") : null;
}

internal sealed record ExposureLong() : BagFlag(
    Protocol, "exposure-long", Suspect,
    "The bag lay so long that the litter's slow part may have begun to decompose.",
    "exposure > exposure_days.max.",
    "Check the dates.")
{
    [Setting("exposure_days/max", "a whole number of days", "Longest exposure")]
    public int ExposureMaxDays { get; init; } = (int)UsualRange.ExposureDays.Most;

    protected override Grounds? Judge(Bag bag) =>
        bag.ExposureDays is > 0 and var days && days > ExposureMaxDays
            ? new($"The bag lay {days} days.", days, ExposureMaxDays, "d") : null;

    internal override Grounds? JudgeResult(SentResult result) => result.Row.Exposure is > 0 and var days && days > ExposureMaxDays
        ? new($"The bags lay {days} days.", days, ExposureMaxDays, "d") : null;
}

internal sealed record PlateauNotReached() : BurialFlag(
    Protocol, "plateau-not-reached", Suspect,
    "At the rate of this burial the fast litter had not reached its plateau when it was dug up, or the slow one had lost too little to "
    + "tell, so that S and k are too high.",
    "p = 1 - exp(-plateau.fast_over_slow × k × days) < plateau.share_min, with the k that agrees with p; where none does (k is 0, below, "
    + "or hardly above), p is at most that of the upper end of k. Not judged where k is missing, nor where the fast litter lost more than "
    + "p lets it lose by more than 2 u(S): then a bag is odd, not the time short. Means are judged by their mean ln k where k and S are on "
    + "the chemistry of the lots.",
    "Leave bags longer where it is cold or dry. Check the masses: a slow bag that seems to have lost too little looks the same.")
{
    [Setting("plateau/fast_over_slow", "a number, above 1 and at most 1000",
        "How many times faster the fast litter decays than the slow one (common practice, no source)", Above = 1, Most = 1000)]
    public double FastOverSlow { get; init; } = PlateauDoubt.FastOverSlow;

    [Setting("plateau/share_min", "a share, 0 to 1; 0 judges nothing", "Least share of its plateau that the fast litter must have reached",
        Least = 0, Most = 1)]
    public double ShareMin { get; init; } = PlateauDoubt.ShareMin;

    protected override Grounds? Judge(Burial burial) =>
        burial is { RatePerDay.Value: { } k, StabilisationFactor.Value: { } s, ExposureDays: > 0 and var days }
            ? Judge(days, k.Value, burial.Weighed.RateInterval?.Upper95PerDay, s.Value, s.Uncertainty) : null;

    internal override Grounds? JudgeResult(SentResult result) =>
        result is { Index: { IsHarmonised: true, LnRate.Value: { } k, Stabilisation.Value: { } s }, Row.Exposure: > 0 and var days }
            ? Judge(days, Math.Exp(k.Mean), Math.Exp(k.Mean + PhysicalFlags.Coverage * k.Uncertainty), s.Mean, s.Uncertainty) : null;

    /// <param name="mostRate">What k may be at most (d⁻¹); missing where that has no bound.</param>
    private Grounds? Judge(double days, double rate, double? mostRate, double s, double uncertaintyS)
    {
        return PlateauDoubt.Of(days, rate, mostRate, s, uncertaintyS, FastOverSlow, ShareMin) switch
        {
            null => null,
            { Plateau: { ShareReached: { } share } plateau } => new(
                Invariant($"After {days} days the fast litter had reached about {share:0.00} of its plateau: S comes out {s:0.000} for ")
                + Invariant($"{plateau.StabilisationFactor:0.000}, and k {rate:0.00000} for {plateau.RatePerDay:0.00000} per day."),
                share, ShareMin, "1"),
            { MostShare: var most } => new(
                Invariant($"In {days} days the slow litter had lost too little to tell how much of its plateau the fast one had reached ")
                + Invariant($"(at most {most:0.00}), and so what S and k are."), null, ShareMin, "1"),
        };
    }
}
