using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What was done otherwise than the protocol asks with bags and their pairs, so that the numbers do not compare.</summary>
internal static class ProtocolFlags
{
    public static IReadOnlyList<FlagDefinition> All =>
    [
        new DepthOutOfRange(), new UnusedMaterialNo(), new TareMissing(), new BalanceCoarse(), new BalanceUnstated(), new BagDamaged(),
        new BagLost(), new PairIncomplete(), new PairDatesDiffer(), new PairSitesDiffer(), new PairPlotsDiffer(),
        new RoleDiffersFromLot(), new MassInitialOffNominal(),
    ];
}

internal sealed record DepthOutOfRange() : BagFlag(
    Protocol, "depth-out-of-range", Suspect,
    "The burial depth is off the protocol's.",
    "depth_cm outside depth_cm.min to depth_cm.max.",
    "Check the unit: the depth is in centimetres.")
{
    [Setting("depth_cm/min", "a number of centimetres", "Shallowest burial")]
    public double DepthMinCentimetres { get; init; } = UsualRange.ProtocolDepthCentimetres.Least;

    [Setting("depth_cm/max", "a number of centimetres", "Deepest burial")]
    public double DepthMaxCentimetres { get; init; } = UsualRange.ProtocolDepthCentimetres.Most;

    protected override Grounds? Judge(Bag bag) => Judge(bag.Row.DepthCentimetres);

    internal override Grounds? JudgeResult(SentResult result) => Judge(result.Row.DepthCentimetres);

    private Grounds? Judge(double? centimetres) =>
        centimetres is { } depth && (depth < DepthMinCentimetres || depth > DepthMaxCentimetres)
            ? new($"Buried {depth} cm deep; the protocol says {DepthMinCentimetres} to {DepthMaxCentimetres} cm.",
                depth, depth < DepthMinCentimetres ? DepthMinCentimetres : DepthMaxCentimetres, "cm")
            : null;
}

internal sealed record UnusedMaterialNo() : BagFlag(
    Protocol, "unused-material-no", Reject,
    "The litter had been used before it was buried. It has lost its soluble part and is another substrate.",
    "unused_material is no.",
    "Keep such bags out of the campaign, or correct the column if it was filled by mistake.")
{
    protected override Grounds? Judge(Bag bag) => bag.Row.UnusedMaterial == false ? new("The litter had been used before.") : null;
}

internal sealed record TareMissing() : BagFlag(
    Protocol, "tare-missing", Suspect,
    "The masses include the bag, and the lot gives no tare to take off.",
    "mass_basis is gross and the lot's tare_g is empty.",
    "Weigh ten empty bags with all that hangs on them, and send their mean and standard deviation with the lot.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.Row.MassBasis == MassBasis.Gross && bag.Lot.TareGrams is null
        ? new($"The masses include the bag, and lot {bag.Row.LotId} gives no tare.") : null;
}

internal sealed record BalanceCoarse() : BagFlag(
    Protocol, "balance-coarse", Suspect,
    "The balance is too coarse for bags of a few grams.",
    "balance_resolution_g > balance_max_g.",
    "Use a balance that reads 0.01 g; a school or a shop may lend one.")
{
    [Setting("balance_max_g", "grams above 0", "Coarsest balance", Above = 0)]
    public double BalanceMaxGrams { get; init; } = ForeseenDoubts.CoarsestBalanceGrams;

    protected override Grounds? Judge(Bag bag) =>
        bag.Row.BalanceResolutionGrams is { } resolution && resolution > BalanceMaxGrams
            ? new($"The balance reads {resolution} g.", resolution, BalanceMaxGrams, "g")
            : null;
}

internal sealed record BalanceUnstated() : BagFlag(
    Protocol, "balance-unstated", Note,
    "The resolution of the balance was not sent; the default of the run was assumed.",
    "balance_resolution_g is empty.",
    "Send the resolution.")
{
    protected override Grounds? Judge(Bag bag) => bag.Row.BalanceResolutionGrams is null
        ? new("The resolution of the balance was not sent.") : null;
}

internal sealed record BagDamaged() : BagFlag(
    Protocol, "bag-damaged", Suspect,
    "The bag came up torn, or with roots grown in, so that its mass is not that of the litter.",
    "condition is torn or roots.",
    "Nothing to mend; thank you for saying so.")
{
    public override bool IsAsTold => true;

    protected override Grounds? Judge(Bag bag) => bag.Row.Condition switch
    {
        BagCondition.Torn => new("The bag came up torn."),
        BagCondition.Roots => new("Roots had grown into the bag."),
        _ => null,
    };
}

internal sealed record BagLost() : BagFlag(
    Protocol, "bag-lost", Note,
    "The bag was not found again.",
    "condition is lost.",
    "Nothing to mend; thank you for saying so.")
{
    public override bool IsAsTold => true;

    protected override Grounds? Judge(Bag bag) => bag.Row.Condition == BagCondition.Lost ? new("The bag was not found again.") : null;
}

internal sealed record PairIncomplete() : BurialFlag(
    Protocol, "pair-incomplete", Note,
    "The burial does not consist of exactly one fast and one slow bag, so that k does not exist.",
    "number of fast bags ≠ 1, or number of slow bags ≠ 1.",
    "Check to which burial its bags belong, and which of them is fast and which slow.")
{
    protected override Grounds? Judge(Burial burial)
    {
        int fast = burial.Bags.Count(b => b.Row.Role == LitterRole.Fast);
        return burial.Fast is null || burial.Slow is null
            ? new($"The burial has {fast} fast and {burial.Bags.Count - fast} slow bags.", burial.Bags.Count, 2)
            : null;
    }
}

internal sealed record PairDatesDiffer() : BurialFlag(
    Protocol, "pair-dates-differ", Suspect,
    "The two bags of the burial did not lie together: their dates differ.",
    "buried_on of the fast and the slow bag differ, or retrieved_on where both are given.",
    "Check the dates, or give the bags burial ids of their own.")
{
    protected override Grounds? Judge(Burial burial) =>
        burial is { Fast.Row: var fast, Slow.Row: var slow }
            && (fast.BuriedOn != slow.BuriedOn
                || (fast.RetrievedOn is { } fastOut && slow.RetrievedOn is { } slowOut && fastOut != slowOut))
            ? new($"The fast bag lay from {Span(fast)}, the slow bag from {Span(slow)}.")
            : null;

    private static string Span(
        BagRow bag) => $"{bag.BuriedOn:yyyy-MM-dd} to {(bag.RetrievedOn is { } day ? $"{day:yyyy-MM-dd}" : "an unknown day")}";
}

internal sealed record PairSitesDiffer() : BurialFlag(
    Protocol, "pair-sites-differ", Reject,
    "The bags of the burial lay at different sites: they are no pair.",
    "site_id of its bags differ.",
    "Check at which site the bags lay, or give the bags burial ids of their own.")
{
    protected override Grounds? Judge(Burial burial)
    {
        string[] sites = [.. burial.Bags.Select(b => b.Row.SiteId).Distinct(StringComparer.Ordinal)];
        return sites.Length > 1 ? new($"Its bags lay at {string.Join(" and ", sites)}.", sites.Length, 1) : null;
    }
}

internal sealed record PairPlotsDiffer() : BurialFlag(
    Protocol, "pair-plots-differ", Suspect,
    "The two bags of the burial lay in different plots or under different treatments, so that the S of one does not hold for the other.",
    "plot or treatment of the fast and the slow bag differ.",
    "Check plot and treatment, or give the bags burial ids of their own.")
{
    protected override Grounds? Judge(Burial burial) =>
        burial is { Fast.Row: var fast, Slow.Row: var slow } && (fast.Plot != slow.Plot || fast.Treatment != slow.Treatment)
            ? new($"The fast bag lay in {Place(fast)}; the slow bag in {Place(slow)}.")
            : null;

    private static string Place(BagRow bag) => $"plot {bag.Plot ?? "–"}, treatment {bag.Treatment ?? "–"}";
}

internal sealed record RoleDiffersFromLot() : BagFlag(
    Protocol, "role-differs-from-lot", Reject,
    "The bag says fast and its lot says slow, or the other way round.",
    "role of the bag ≠ role of its lot.",
    "Check the lot of the bag, and whether it is the fast or the slow one.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.Row.Role != bag.Lot.Role ? new($"The bag is {Name(bag.Row.Role)}, lot {bag.Row.LotId} is {Name(bag.Lot.Role)}.") : null;

    private static string Name(LitterRole role) => role == LitterRole.Fast ? "fast" : "slow";

    internal override Grounds? JudgeResult(SentResult result) =>
        result.FastLot is { Role: LitterRole.Slow } fast ? new($"Lot {fast.LotId} is named for the fast litter and is slow.")
        : result.SlowLot is { Role: LitterRole.Fast } slow ? new($"Lot {slow.LotId} is named for the slow litter and is fast.")
        : null;
}

internal sealed record MassInitialOffNominal() : BagFlag(
    Protocol, "mass-initial-off-nominal", Suspect,
    "The initial litter mass is further from the lot's nominal mass than the lot allows.",
    "|initial mass - tare - litter_mass_nominal_g| > litter_mass_tolerance_g.",
    "Check the initial mass, its unit (grams), and whether it was weighed with the bag or without.")
{
    protected override Grounds? Judge(Bag bag) =>
        ForeseenDoubts.OffNominalGrams(bag.Row, bag.Lot) is { } litter
            && bag.Lot is { LitterMassNominalGrams: { } nominal, LitterMassToleranceGrams: { } tolerance }
            ? new($"The initial litter mass is {litter:0.###} g; lot {bag.Row.LotId} allows {nominal} ± {tolerance} g.",
                litter, litter > nominal ? nominal + tolerance : nominal - tolerance, "g")
            : null;
}
