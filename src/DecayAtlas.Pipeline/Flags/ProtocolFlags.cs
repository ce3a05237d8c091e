using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What was done otherwise than the protocol asks, so that the numbers do not compare.</summary>
internal static class ProtocolFlags
{
    public static IReadOnlyList<FlagDefinition> All =>
    [
        new ExposureShort(), new ExposureLong(), new PlateauNotReached(), new DepthOutOfRange(), new UnusedMaterialNo(), new TareMissing(),
        new BalanceCoarse(), new BalanceUnstated(),
        new BagDamaged(), new BagLost(), new PairIncomplete(), new PairDatesDiffer(), new PairSitesDiffer(), new PairPlotsDiffer(),
        new RoleDiffersFromLot(), new MassInitialOffNominal(), new AshWithoutLotAsh(), new AshOfOneBag(), new DryingNotOven(),
        new InitialWaterUnstated(), new FinalWaterUnstated(), new NotDried(), new ChemistryBasisUnstated(), new ChemistryIncomplete(),
        new DriedAndMoist(),
    ];
}

internal sealed record ExposureShort() : BagFlag(
    Protocol, "exposure-short", Suspect,
    "The bag lay shorter than the protocol asks, so that its numbers do not compare. Whether its litter had time enough is the question of "
    + "plateau-not-reached.",
    "exposure < exposure_days.min.",
    "Check the dates. If they are right, leave the next bags longer.")
{
    [Setting("exposure_days/min", "a whole number of days", "Shortest exposure")]
    public int ExposureMinDays { get; init; } = 60;

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
    public int ExposureMaxDays { get; init; } = 120;

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
    public double FastOverSlow { get; init; } = 8;

    [Setting("plateau/share_min", "a share, 0 to 1; 0 judges nothing", "Least share of its plateau that the fast litter must have reached",
        Least = 0, Most = 1)]
    public double ShareMin { get; init; } = 0.9;

    protected override Grounds? Judge(Burial burial) =>
        burial is { RatePerDay.Value: { } k, StabilisationFactor.Value: { } s, ExposureDays: > 0 and var days }
            ? Judge(days, k.Value, burial.Weighed.RateInterval?.Upper95PerDay, s.Value, s.Uncertainty) : null;

    internal override Grounds? JudgeResult(SentResult result) =>
        result is { Index: { IsHarmonised: true, LnRate.Value: { } k, Stabilisation.Value: { } s }, Row.Exposure: > 0 and var days }
            ? Judge(days, Math.Exp(k.Mean), Math.Exp(k.Mean + PhysicalFlags.Coverage * k.Uncertainty), s.Mean, s.Uncertainty) : null;

    /// <param name="mostRate">What k may be at most (d⁻¹); missing where that has no bound.</param>
    private Grounds? Judge(double days, double rate, double? mostRate, double s, double uncertaintyS)
    {
        // nothing lost is a flag of its own
        if (s >= 1)
            return null;
        double lost = 1 - s, allowed = PhysicalFlags.Coverage * uncertaintyS;
        if ((rate > 0 ? FastPlateau.Of(s, rate, days, FastOverSlow) : null) is { ShareReached: { } share } plateau)
        {
            return share >= ShareMin || lost > share + allowed ? null : new(
                Invariant($"After {days} days the fast litter had reached about {share:0.00} of its plateau: S comes out {s:0.000} for ")
                + Invariant($"{plateau.StabilisationFactor:0.000}, and k {rate:0.00000} for {plateau.RatePerDay:0.00000} per day."),
                share, ShareMin, "1");
        }

        // the error is allowed for once, of S or of k
        double most = Math.Max(ShareAt(rate) + allowed, mostRate is { } bound ? ShareAt(bound) : 1);
        return ShareMin == 0 || lost > most ? null : new(
            Invariant($"In {days} days the slow litter had lost too little to tell how much of its plateau the fast one had reached ")
            + Invariant($"(at most {most:0.00}), and so what S and k are."), null, ShareMin, "1");

        double ShareAt(double k) => 1 - Math.Exp(-FastOverSlow * Math.Max(0, k) * days);
    }
}

internal sealed record DepthOutOfRange() : BagFlag(
    Protocol, "depth-out-of-range", Suspect,
    "The burial depth is off the protocol's.",
    "depth_cm outside depth_cm.min to depth_cm.max.",
    "Check the unit: the depth is in centimetres.")
{
    [Setting("depth_cm/min", "a number of centimetres", "Shallowest burial")]
    public double DepthMinCentimetres { get; init; } = 6;

    [Setting("depth_cm/max", "a number of centimetres", "Deepest burial")]
    public double DepthMaxCentimetres { get; init; } = 10;

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
    public double BalanceMaxGrams { get; init; } = 0.05;

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
    protected override Grounds? Judge(Bag bag) => bag.Row.Condition == BagCondition.Lost ? new("The bag was not found again.") : null;
}

internal sealed record PairIncomplete() : BurialFlag(
    Protocol, "pair-incomplete", Note,
    "The burial does not consist of exactly one fast and one slow bag, so that k does not exist.",
    "number of fast bags ≠ 1, or number of slow bags ≠ 1.",
    "Check burial_id and role of its bags.")
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
    "Check site_id, or give the bags burial ids of their own.")
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

    private static string Place(BagRow bag) => $"plot {bag.Plot ?? "(none)"}, treatment {bag.Treatment ?? "(none)"}";
}

internal sealed record RoleDiffersFromLot() : BagFlag(
    Protocol, "role-differs-from-lot", Reject,
    "The bag says fast and its lot says slow, or the other way round.",
    "role of the bag ≠ role of its lot.",
    "Check lot_id and role.")
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
    "Check the initial mass, its unit (grams), and mass_basis.")
{
    protected override Grounds? Judge(Bag bag) =>
        bag.Row.MassInitialGrams is { } initial
            && bag.Lot is { LitterMassNominalGrams: { } nominal, LitterMassToleranceGrams: { } tolerance }
            && (bag.Row.MassBasis == MassBasis.Litter ? 0 : bag.Lot.TareGrams) is { } tare
            // a billionth of a gram: a mass written exactly at the tolerance is within it, whatever binary fractions make of it
            && Math.Abs(initial - tare - nominal) > tolerance + 1e-9
            ? new($"The initial litter mass is {initial - tare:0.###} g; lot {bag.Row.LotId} allows {nominal} ± {tolerance} g.",
                initial - tare, initial - tare > nominal ? nominal + tolerance : nominal - tolerance, "g")
            : null;
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
    "Measure the moisture of a subsample and send it as moisture_final_fraction; where an oven can be borrowed, use it.")
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
    "Send drying_initial; of litter that was not oven-dried also moisture_initial_fraction, or moisture_fraction of the lot.")
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
    "Ask whoever measured the lot for nonpolar_fraction and ash_fraction.")
{
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
