using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What masses and chemistry are a share of: how much water and ash they hold, and which fractions they count.</summary>
internal static class BasisFlags
{
    public static IReadOnlyList<FlagDefinition> All =>
    [
        new AshWithoutLotAsh(), new AshOfOneBag(), new DryingNotOven(), new InitialWaterUnstated(), new FinalWaterUnstated(),
        new NotDried(), new ChemistryBasisUnstated(), new ChemistryIncomplete(), new DriedAndMoist(),
    ];
}

internal sealed record AshWithoutLotAsh() : BagFlag(
    Protocol, "ash-without-lot-ash", Note,
    "The ash of the retrieved litter was measured, but the lot's ash is not known, so that no ash-free mass could be computed.",
    "ash_fraction of the bag is given and that of the lot is not.",
    "Ask for the ash fraction of the lot.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.Row.AshFraction is { } ash && bag.Lot.AshFraction is null
            ? new($"The bag's ash was measured, that of lot {bag.Row.LotId} is not known.", ash, null, "1")
            : null;
}

internal sealed record AshOfOneBag() : BurialFlag(
    Protocol, "ash-of-one-bag", Note,
    "The ash of one of the two bags is known and that of the other is not, so that k and S were made on a dry basis, ash and all: two "
    + "bases must not meet in one k.",
    "An ash-free remaining fraction exists for one bag of the burial and not for the other.",
    "Measure the ash of both bags, or of neither.")
{
    protected override Grounds? Judge(Burial burial) =>
        burial is { Fast.Remaining.Value: { } fast, Slow.Remaining.Value: { } slow } && fast.IsAshFree != slow.IsAshFree
            ? new($"The ash of the {(fast.IsAshFree ? "fast" : "slow")} bag alone is known.") : null;
}

internal sealed record DryingNotOven() : BagFlag(
    Protocol, "drying-not-oven", Note,
    "The litter was not oven-dried before the second weighing; how much water it may hold is in the uncertainty.",
    "drying is air or freeze, and moisture_final_fraction is empty.",
    "Measure the moisture of a subsample and send it as the water left after drying; where an oven can be borrowed, use it.")
{
    protected override Grounds? Judge(Bag bag) => bag.Row.MoistureFinalFraction is not null ? null : bag.Row.Drying switch
    {
        Drying.Air => new("The litter was air-dried."),
        Drying.Freeze => new("The litter was freeze-dried."),
        _ => null,
    };
}

internal sealed record InitialWaterUnstated() : BagFlag(
    Protocol, "initial-water-unstated", Note,
    "Nothing says how much water the litter held at the first weighing. Water that dries off passes for litter that decayed, so that "
    + "anything from none to a most share was taken as equally likely.",
    "moisture_initial_fraction is empty, and drying_initial is empty or air, or none for a lot without moisture_fraction.",
    "Say how the litter was dried before the first weighing; of litter that was not oven-dried also how "
    + "moist it was, or the moisture of the lot.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.Row is { MoistureInitialFraction: null, MassInitialGrams: not null } row
            && (row.DryingInitial is null or Drying.Air || (row.DryingInitial == Drying.None && bag.Lot.MoistureFraction is null))
            ? new(row.DryingInitial switch
            {
                null => "What was done to the litter before the first weighing was not sent.",
                Drying.Air => "The litter was air-dried before the first weighing, and its moisture was not sent.",
                _ => $"The litter was weighed as supplied, and the moisture of lot {row.LotId} was not sent.",
            })
            : null;

    internal override Grounds? JudgeResult(SentResult result) => result.Row switch
    {
        { Evidence: EvidenceKind.Reported, Basis: null or StatedBasis.Moist } =>
            new("What water did to the k and S of the group is not known, and is in none of their errors."),
        { Evidence: EvidenceKind.Reported } => null,
        { Basis: null } => new("What the masses behind the fractions were was not sent."),
        { Basis: StatedBasis.Moist } when result.FastLot?.MoistureFraction is null || result.SlowLot?.MoistureFraction is null =>
            new("The litter was weighed moist, and the lots do not say how moist it was supplied."),
        _ => null,
    };
}

internal sealed record FinalWaterUnstated() : BagFlag(
    Protocol, "final-water-unstated", Note,
    "Nothing says how the litter was dried before the second weighing; anything from no water to a most share was taken as equally likely.",
    "moisture_final_fraction and drying are empty, and there is a final mass.",
    "Send drying.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.Row is { MoistureFinalFraction: null, Drying: null, MassFinalGrams: not null } ? new("How the litter was dried was not sent.")
        : null;
}

internal sealed record NotDried() : BagFlag(
    Protocol, "not-dried", Suspect,
    "The litter was weighed as it came out of the soil, and may be half water.",
    "drying is none and moisture_final_fraction is empty.",
    "Dry the litter and weigh it again, or measure the moisture of a subsample.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.Row is { MoistureFinalFraction: null, Drying: Drying.None, MassFinalGrams: not null } ? new("The litter was not dried.") : null;
}

internal sealed record ChemistryBasisUnstated() : BagFlag(
    Protocol, "chemistry-basis-unstated", Note,
    "The lot does not say whether its hydrolysable fraction is a share of the dry litter or of its ash-free part, nor which fractions it "
    + "counts. It was taken as a share of the dry litter that counts all that is not acid-insoluble.",
    "hydrolysable_basis or hydrolysable_parts of the lot is empty.",
    "Ask whoever measured the lot, and send both.")
{
    public override bool IsOfLot => true;

    protected override Grounds? Judge(Bag bag) => Judge(bag.Lot);

    internal override Grounds? JudgeResult(SentResult result) => result.LotsUsed.Select(Judge).FirstOrDefault(g => g is not null);

    private static Grounds? Judge(LotRow lot) =>
        lot.HydrolysableBasis is null || lot.HydrolysableParts is null
            ? new($"Lot {lot.LotId} does not say what its hydrolysable fraction is made of.") : null;
}

internal sealed record ChemistryIncomplete() : BagFlag(
    Protocol, "chemistry-incomplete", Note,
    "The hydrolysable fraction of the lot leaves out non-polar extractives whose share is not known, or has to be taken from one basis to "
    + "the other without the lot's ash. Anything from none to a most share was taken as equally likely.",
    "hydrolysable_parts is not all-soluble and nonpolar_fraction is empty, or hydrolysable_basis is ash-free and ash_fraction of the lot "
    + "is empty.",
    "Ask whoever measured the lot for its non-polar extractives and its ash.")
{
    public override bool IsOfLot => true;

    protected override Grounds? Judge(Bag bag) => Judge(bag.Lot);

    internal override Grounds? JudgeResult(SentResult result) => result.LotsUsed.Select(Judge).FirstOrDefault(g => g is not null);

    private static Grounds? Judge(LotRow lot) =>
        lot is { NonpolarFraction: null, HydrolysableParts: HydrolysableParts.WaterAndAcidSoluble or HydrolysableParts.AcidSoluble }
            ? new($"The non-polar extractives of lot {lot.LotId} are not known.")
            : lot is { AshFraction: null, HydrolysableBasis: FractionBasis.AshFree }
                ? new($"The hydrolysable fraction of lot {lot.LotId} is ash-free, and its ash is not known.")
                : null;
}

internal sealed record DriedAndMoist() : BagFlag(
    Protocol, "dried-and-moist", Suspect,
    "The litter is said to be dried and to have held more water than drying leaves. The stated water was taken off; if it was the moisture "
    + "before drying, the mass is too small.",
    "drying_initial (drying) is oven or freeze, and moisture_initial_fraction (moisture_final_fraction) > moisture_most_dried.",
    "Leave the moisture empty if the mass is of dried litter, or correct how it was dried.")
{
    [Setting("moisture_most_dried", "a share of the mass, 0 to 1",
        "Most water that oven- or freeze-dried litter is said to hold, four times the uncertainty of what drying leaves (common practice, "
        + "no source)", Least = 0, Most = 1)]
    public double MoistureMostDried { get; init; } = StatedWater.MostLeftByDrying;

    protected override Grounds? Judge(Bag bag) => StatedWater.ContradictionsOf(bag.Row, MoistureMostDried).FirstOrDefault() is { } water
        ? new(water.Sentence, water.Share, MoistureMostDried, "1") : null;
}
