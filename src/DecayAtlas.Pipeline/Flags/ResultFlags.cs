using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What keeps means that stand for burials from being held beside weighings. Flags on bags and burials that fit means too, as for
/// a short exposure, judge them by themselves.</summary>
internal static class ResultFlags
{
    public static IReadOnlyList<FlagDefinition> All =>
    [
        new ResultErrorMissing(), new ResultLotMissing(), new ResultMethodOther(), new ResultNotHarmonised(), new ResultRateNotPositive(),
        new ResultScatterLarge(), new ResultScatterNone(), new ResultWithoutRate(), new ResultNothingLost(), new ResultDaysDiffer(),
    ];
}

/// <summary>A flag that one row of results raises by itself, and nothing else does.</summary>
internal abstract record ResultFlag(FlagFamily Family, string Code, Severity Severity, string Meaning, string Rule, string Mend)
    : FlagDefinition(Family, Code, Severity, RecordKind.Result, Meaning, Rule, Mend);

internal sealed record ResultErrorMissing() : ResultFlag(
    Protocol, "result-error-missing", Suspect,
    "Nothing says how uncertain the mean is: it is of one burial, its standard deviation was not sent, or it is not said what the "
    + "errors are.",
    "burials = 1; or a standard deviation of the remaining fractions is empty (summarised), or k_error_per_day or errors_are is "
    + "(reported).",
    "Send the standard deviation between burials; of a single burial send the weighings.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Row.Burials == 1 ? new("The mean is of one burial.", 1, 2)
        : (result.Index.LnRate.Value ?? result.Index.Stabilisation.Value) is { Sd: null }
            ? new("No scatter between the burials was sent with the mean, or not what it is.")
        : null;
}

internal sealed record ResultLotMissing() : ResultFlag(
    Protocol, "result-lot-missing", Suspect,
    "Mean remaining fractions give k and S only with the chemistry of both lots, and these are not named.",
    "evidence is summarised, and fast_lot_id or slow_lot_id is empty.",
    "Name the lots, and send their sheets in lots.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Row.Evidence == EvidenceKind.Summarised && (result.FastLot is null || (result.SlowLot is null && result.Row.SlowRemainingMean
            is not null)) ? new("A lot of the litter is not named.") : null;
}

internal sealed record ResultMethodOther() : ResultFlag(
    Protocol, "result-method-other", Suspect,
    "k was not computed by the two-litter equations, or it is not said how. A rate of another method is another quantity, even where "
    + "the letter is the same.",
    "evidence is reported, and method is not two-litter.",
    "Name the method; send the mean remaining fractions if you have them.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Row is { Evidence: EvidenceKind.Reported, Method: not ResultMethod.TwoLitter }
            ? new(result.Row.Method is { } method ? $"k was computed by the method {AtlasCode.Of(method)}." : "The method is not named.")
            : null;
}

internal sealed record ResultNotHarmonised() : ResultFlag(
    Protocol, "result-not-harmonised", Note,
    "k and S stand as they were sent: what is needed to put them on the chemistry of the lots is not known.",
    "evidence is reported, method is two-litter, and a lot, a hydrolysable fraction used, the exposure, k or fraction_basis is missing.",
    "Send the hydrolysable fractions that were used, the lots, both dates, and the basis of the masses.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Row is { Evidence: EvidenceKind.Reported, Method: ResultMethod.TwoLitter } && !result.Index.IsHarmonised
            ? new("k and S were kept as sent.") : null;
}

internal sealed record ResultRateNotPositive() : ResultFlag(
    Physical, "result-rate-not-positive", Suspect,
    "The mean k is 0 or below, so that it has no logarithm to be averaged or learnt from.",
    "k of the means ≤ 0.",
    "Check k, its unit (per day), or the mean remaining fraction of the slow litter.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Index.LnRate.Reason == MissingReason.MeanRateNotPositive ? new("The mean k is not above 0.") : null;
}

internal sealed record ResultScatterLarge() : ResultFlag(
    Protocol, "result-scatter-large", Suspect,
    "The burials scatter so much that their mean k cannot be told from the means that were sent: the equations bend too much in "
    + "between, and some burials may have had no k.",
    "standard deviation of ln k between burials > result_scatter_limit.",
    "Send the weighings. If they are lost, check that standard deviations and not squares or per cent were sent.")
{
    [Setting("result_scatter_limit", "a difference of ln k above 0",
        "Largest standard deviation of ln k between burials of which only means were sent", Above = 0)]
    public double ResultScatterLimit { get; init; } = 0.4;

    internal override Grounds? JudgeResult(SentResult result) => result.Index.LnRate.Value is { Sd: { } sd } && sd > ResultScatterLimit
        ? new($"ln k scatters by {sd:0.00} between the burials.", sd, ResultScatterLimit, "ln(d-1)") : null;
}

internal sealed record ResultScatterNone() : ResultFlag(
    Protocol, "result-scatter-none", Suspect,
    "Several burials are said not to scatter at all. Burials that agree to the last digit are one burial, or copies of it.",
    "burials > 1, and a standard deviation or an error is 0.",
    "Leave the standard deviation empty if it is not known; say burials 1 if it was one.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Row.IsWithoutScatter ? new($"{result.Row.Burials} burials with a standard deviation of 0.", 0, 0) : null;
}

internal sealed record ResultWithoutRate() : ResultFlag(
    Protocol, "result-without-rate", Note,
    "The row gives no k, as something that k needs was not sent; its S, where there is one, counts.",
    "k is missing for another reason than a flag of its own tells (k_missing_because).",
    "Send what is missing: the exposure, the other litter, or the water-soluble share of the lot.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Index.LnRate.Reason is { } reason and not (MissingReason.SlowLossAtPlateau or MissingReason.MeanRateNotPositive
            or MissingReason.LotNotReported or MissingReason.ChemistryImpossible)
            ? new($"There is no k: {reason.Code()}.") : null;
}

internal sealed record ResultNothingLost() : ResultFlag(
    Physical, "result-nothing-lost", Reject,
    "S of 1 or more says that the fast litter lost nothing, and then there is no k; the row has one.",
    "evidence is reported, s ≥ 1 and k_per_day is given.",
    "Check S: it is 0 where all that can rot is gone, and 1 where nothing is.")
{
    internal override Grounds? JudgeResult(SentResult result) =>
        result.Row is { Evidence: EvidenceKind.Reported, RatePerDay: not null, Stabilisation: >= 1 and var s }
            ? new($"S is {s:0.###} and there is a k.", s, 1, "1") : null;
}

internal sealed record ResultDaysDiffer() : ResultFlag(
    Protocol, "result-days-differ", Suspect,
    "The mean exposure is another than the dates give, so that k may be wrong by as much.",
    "|exposure_days - (retrieved_on - buried_on)| > result_days_apart_max + 2 exposure_sd_days.",
    "Correct the exposure or the dates; they are the middle ones of several.")
{
    [Setting("result_days_apart_max", "days, 0 or more",
        "Most days by which a mean exposure may differ from its dates, besides twice its scatter (common practice, no source)", Least = 0)]
    public double ResultDaysApartMax { get; init; } = ResultRow.MostDaysApart;

    internal override Grounds? JudgeResult(SentResult result) => result.Row.OtherDaysByDates(ResultDaysApartMax) is { } days
        ? new($"The exposure is {result.Row.ExposureDays} days, and the dates are {days} days apart.",
            Math.Abs(result.Row.ExposureDays!.Value - days), ResultDaysApartMax, "d") : null;
}
