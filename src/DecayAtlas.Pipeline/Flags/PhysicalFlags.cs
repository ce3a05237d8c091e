using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What can't be so: gains, losses beyond the litter, dates the wrong way round.</summary>
internal static class PhysicalFlags
{
    /// <summary>Coverage factor for about 95 % (JCGM 100:2008, G.6.6).</summary>
    internal const double Coverage = PlateauDoubt.Coverage;

    public static IReadOnlyList<FlagDefinition> All =>
    [
        new MassGain(), new MassGainWithinWeighing(), new LossExceedsLitter(), new FastLossBeyondHydrolysable(), new SlowLossAtPlateau(),
        new RetrievedBeforeBuried(), new RetrievedInFuture(), new ChemistryImpossible(), new AshVanished(),
    ];
}

internal sealed record MassGain() : BagFlag(
    Physical, "mass-gain", Reject,
    "The bag holds more litter after burial than before. Soil stuck to the litter, a swapped weighing or a damp bag are the usual causes.",
    "w > 1 + 2 u(w), with u(w) the standard uncertainty of w.",
    "Check the two masses and the drying. If soil sticks to the litter, measure its ash and send the ash fraction.")
{
    protected override Grounds? Judge(Bag bag) => GainOf(bag) is { IsExplained: false } gain ? gain.Grounds : null;

    internal static (bool IsExplained, Grounds Grounds)? GainOf(Bag bag)
    {
        if (bag.Remaining.Value is not { Fraction: > 1 } w)
            return null;
        double limit = 1 + PhysicalFlags.Coverage * w.Uncertainty;
        return (w.Fraction <= limit, new(
            $"{w.Fraction:0.000} of the initial litter mass remains; the weighing explains up to {limit:0.000}.", w.Fraction, limit, "1"));
    }

    internal override Grounds? JudgeResult(SentResult result) =>
        GainOf(result, result.Row.FastRemainingMean, result.Row.FastRemainingSd)
        ?? GainOf(result, result.Row.SlowRemainingMean, result.Row.SlowRemainingSd);

    private static Grounds? GainOf(SentResult result, double? mean, double? sd)
    {
        double limit = 1 + PhysicalFlags.Coverage * (sd ?? 0) / Math.Sqrt(result.Row.Burials);
        return mean > limit ? new($"On average {mean:0.000} of the initial litter mass remains; scatter explains up to {limit:0.000}.",
            mean, limit, "1") : null;
    }
}

internal sealed record MassGainWithinWeighing() : BagFlag(
    Physical, "mass-gain-within-weighing", Note,
    "The bag weighs a little more after burial than before, no more than its weighings, the water in it and its lot explain. Leaving such "
    + "bags out would bias the mean upwards, so they stay.",
    "1 < w ≤ 1 + 2 u(w).",
    "Nothing to do; a finer balance helps, and so does stating the water.")
{
    protected override Grounds? Judge(Bag bag) => MassGain.GainOf(bag) is { IsExplained: true } gain ? gain.Grounds : null;
}

internal sealed record LossExceedsLitter() : BagFlag(
    Physical, "loss-exceeds-litter", Reject,
    "More mass is gone than there was litter, or there was no litter to begin with: the final mass is below the tare, or the initial "
    + "mass is not above it.",
    "final mass < tare, or initial mass ≤ tare (tare 0 for litter-only masses).",
    "Check whether the masses include the bag, as was said, and whether the tare of the lot is right.")
{
    protected override Grounds? Judge(Bag bag)
    {
        double tare = bag.Row.MassBasis == MassBasis.Gross ? bag.Lot.TareGrams ?? 0 : 0;
        return bag.Remaining.Reason == MissingReason.MassNotPositive
            ? new($"Masses {bag.Row.MassInitialGrams} g and {bag.Row.MassFinalGrams} g leave no litter once a tare of {tare} g is "
            + "taken off.",
                bag.Row.MassFinalGrams, tare, "g")
            : null;
    }
}

internal sealed record FastLossBeyondHydrolysable() : BurialFlag(
    Physical, "fast-loss-beyond-hydrolysable", Suspect,
    "The fast litter lost more than its hydrolysable fraction, so that S is below zero by more than its uncertainty. Litter has fallen "
    + "out, or the lot's chemistry does not fit.",
    "S < -2 u(S).",
    "Check the bag for holes, and the lot id.")
{
    protected override Grounds? Judge(Burial burial) =>
        burial.StabilisationFactor.Value is { } s && s.Value < -PhysicalFlags.Coverage * s.Uncertainty
            ? new($"S is {s.Value:0.000} with a standard uncertainty of {s.Uncertainty:0.000}.",
                s.Value, -PhysicalFlags.Coverage * s.Uncertainty, "1")
            : null;

    internal override Grounds? JudgeResult(SentResult result)
    {
        if (result.Index.Stabilisation.Value is not { } s)
            return null;
        double u = s.Uncertainty;
        return s.Mean < -PhysicalFlags.Coverage * u
            ? new($"Mean S is {s.Mean:0.000} with a standard uncertainty of {u:0.000}.", s.Mean, -PhysicalFlags.Coverage * u, "1") : null;
    }
}

internal sealed record SlowLossAtPlateau() : BurialFlag(
    Physical, "slow-loss-at-plateau", Suspect,
    "The slow litter lost all that S lets it lose, or more, so that k does not exist.",
    "w_s ≤ 1 - a_s.",
    "Check both bags for holes, and that they were not swapped. A shorter exposure may be needed where it is very warm.")
{
    protected override Grounds? Judge(Burial burial)
    {
        if (!burial.IsAtPlateau)
            return null;
        RemainingFraction slow = burial.Weighed.Slow.Value!;
        double plateau = 1 - slow.Hydrolysable.Value!.Fraction * (1 - burial.StabilisationFactor.Value!.Value), w = slow.Fraction;
        return new($"{w:0.000} of the slow litter remains; its plateau is {plateau:0.000}.", w, plateau, "1");
    }

    internal override Grounds? JudgeResult(SentResult result) =>
        result.Index.LnRate.Reason == MissingReason.SlowLossAtPlateau ? new("The means lie at the plateau of the slow litter.") : null;
}

internal sealed record RetrievedBeforeBuried() : BagFlag(
    Physical, "retrieved-before-buried", Reject,
    "The retrieval date is not later than the burial date.",
    "retrieved_on ≤ buried_on.",
    "Check both dates, and the order of day and month.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.ExposureDays is <= 0 and var days
        ? new($"Buried on {bag.Row.BuriedOn:yyyy-MM-dd}, retrieved on {bag.Row.RetrievedOn:yyyy-MM-dd}.", days, 1, "d") : null;

    internal override Grounds? JudgeResult(SentResult result) => result.Row.Exposure is <= 0 and var days
        ? new($"Buried on {result.Row.BuriedOn:yyyy-MM-dd}, retrieved on {result.Row.RetrievedOn:yyyy-MM-dd}.", days, 1, "d") : null;
}

internal sealed record RetrievedInFuture() : BagFlag(
    Physical, "retrieved-in-future", Reject,
    "The retrieval date is later than the day on which the contribution was made, or later than the as-of day of the run.",
    "retrieved_on > created of the contribution, or > as_of.",
    "Check the year of the retrieval date.")
{
    /// <summary>Missing leaves only the contribution's own day.</summary>
    [Setting("as_of", "a day, as 2025-03-01; no retrieval is later", "The last day on which anything can have been retrieved")]
    public DateOnly? AsOf { get; init; }

    protected override Grounds? Judge(Bag bag) => Judge(bag.Header, bag.Row.RetrievedOn);

    internal override Grounds? JudgeResult(SentResult result) => Judge(result.Header, result.Row.LastDay);

    private Grounds? Judge(ContributionHeader header, DateOnly? day)
    {
        DateOnly? latest = header.Created is { } created && !(created >= AsOf) ? created : AsOf;
        return day is { } retrieved && retrieved > latest
            ? new($"Retrieved on {retrieved:yyyy-MM-dd}, but the contribution was made by {latest:yyyy-MM-dd}.",
                retrieved.DayNumber - latest.Value.DayNumber, 0, "d")
            : null;
    }
}

internal sealed record ChemistryImpossible() : BagFlag(
    Physical, "chemistry-impossible", Reject,
    "The fractions of the lot, its ash among them, come to more than the litter, so that there is no H to compute k and S with.",
    "hydrolysable_fraction + the stated fractions that it leaves out + ash_fraction, as shares of the dry litter, > 1.",
    "Check what the hydrolysable fraction counts, and whether all are shares of the same litter.")
{
    protected override Grounds? Judge(Bag bag) => Judge(bag.Lot);

    internal override Grounds? JudgeResult(SentResult result) => result.LotsUsed.Select(Judge).FirstOrDefault(g => g is not null);

    private static Grounds? Judge(LotRow lot) => lot.Litter().PartsAboveWhole() is { } sum
        ? new($"The fractions of lot {lot.LotId} come to {sum:0.###} of the litter.", sum, 1, "1") : null;
}

internal sealed record AshVanished() : BagFlag(
    Physical, "ash-vanished", Suspect,
    "The bag holds far less ash than its litter began with. Water leaches some of it, but what rots leaves its ash behind, so that an "
    + "ash fraction this low was most likely typed for one that was not measured.",
    "w × ash_fraction of the bag / ash_fraction of the lot + 2 u < ash_left_min, w on a dry basis.",
    "Leave the ash of the bag empty where it was not measured.")
{
    [Setting("ash_left_min", "a share, 0 to 1; 0 judges nothing",
        "Least share of the ash of its litter that a retrieved bag still holds, what water leaches aside (common practice, no source)",
        Least = 0, Most = 1)]
    public double AshLeftMin { get; init; } = 0.25;

    protected override Grounds? Judge(Bag bag) =>
        bag.Weighed.AshLeft is { } ash && ash.Share + PhysicalFlags.Coverage * ash.Uncertainty < AshLeftMin
            ? new($"The bag holds {ash.Share:0.00} of the ash that its litter began with.", ash.Share, AshLeftMin, "1") : null;
}
