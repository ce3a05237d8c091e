namespace DecayAtlas.Contributions.Judging;

/// <summary>Why the k of a burial may not count in the atlas, as far as its own contribution tells, under the codes of the flags that will
/// say so. What needs other contributions, grids or a curator's settings is known in the night alone, so that this is the least.</summary>
public static class ForeseenDoubts
{
    public const string BagDamaged = "bag-damaged", ExposureShort = "exposure-short", ExposureLong = "exposure-long",
        PlateauNotReached = "plateau-not-reached", FastLossBeyond = "fast-loss-beyond-hydrolysable",
        MassOffNominal = "mass-initial-off-nominal",
        NotDried = "not-dried", RateNotPositive = "rate-not-positive", DepthOutOfRange = "depth-out-of-range",
        UnusedMaterialNo = "unused-material-no", TareMissing = "tare-missing", BalanceCoarse = "balance-coarse",
        PairDatesDiffer = "pair-dates-differ", PairPlotsDiffer = "pair-plots-differ", PairSitesDiffer = "pair-sites-differ",
        RoleDiffersFromLot = "role-differs-from-lot", MassGain = "mass-gain";

    /// <summary>The coarsest balance (g) that a bag of a few grams can be weighed with.</summary>
    public const double CoarsestBalanceGrams = 0.05;

    public static IReadOnlyList<string> All { get; } =
    [
        BagDamaged, ExposureShort, ExposureLong, DepthOutOfRange, PlateauNotReached, FastLossBeyond, MassGain, MassOffNominal, NotDried,
        UnusedMaterialNo, TareMissing, BalanceCoarse, PairDatesDiffer, PairPlotsDiffer, PairSitesDiffer, RoleDiffersFromLot,
        RateNotPositive,
    ];

    /// <summary>How deep bags may lie (cm): as the protocol's limits have it, and as deep as a campaign itself plans, whose curator will
    /// have set them so.</summary>
    /// <param name="planned">Null where it is not known.</param>
    public static UsualRange DepthCentimetres(double? planned) => UsualRange.ProtocolDepthCentimetres is var usual && planned is { } depth
        ? new UsualRange(Math.Min(usual.Least, depth), Math.Max(usual.Most, depth)) : usual;

    internal static IReadOnlyList<string> Of(WeighedBurial burial, (BagRow Bag, LotRow Lot)[] bags, double? plannedDepth)
    {
        double? rate = burial.Rate.Value?.RatePerDay.Value, days = burial.InSoil?.Days;
        return
        [
            .. If(BagDamaged, Array.Exists(bags, b => b.Bag.Condition is BagCondition.Torn or BagCondition.Roots)),
            .. If(ExposureShort, days < UsualRange.ExposureDays.Least),
            .. If(ExposureLong, days > UsualRange.ExposureDays.Most),
            .. If(DepthOutOfRange, Array.Exists(bags, b => b.Bag.DepthCentimetres is { } depth
                && !DepthCentimetres(plannedDepth).Holds(depth))),
            .. If(PlateauNotReached, rate is { } k && burial.StabilisationFactor.Value is { } s && days is > 0
                && PlateauDoubt.Of(days.Value, k, burial.RateInterval?.Upper95PerDay, s.Value, s.Uncertainty) is not null),
            .. If(FastLossBeyond, burial.StabilisationFactor.Value is { } below
                && below.Value < -PlateauDoubt.Coverage * below.Uncertainty),
            .. If(MassGain, IsGain(burial.Fast) || IsGain(burial.Slow)),
            .. If(MassOffNominal, Array.Exists(bags, b => OffNominalGrams(b.Bag, b.Lot) is not null)),
            .. If(NotDried, Array.Exists(bags, b =>
                b.Bag is { Drying: Drying.None, MoistureFinalFraction: null, MassFinalGrams: not null })),
            .. If(UnusedMaterialNo, Array.Exists(bags, b => b.Bag.UnusedMaterial == false)),
            .. If(TareMissing, Array.Exists(bags, b => b.Bag.MassBasis == MassBasis.Gross && b.Lot.TareGrams is null)),
            .. If(BalanceCoarse, Array.Exists(bags, b => b.Bag.BalanceResolutionGrams > CoarsestBalanceGrams)),
            .. If(PairDatesDiffer, Differ(b => b.BuriedOn)
                || (Array.TrueForAll(bags, b => b.Bag.RetrievedOn is not null) && Differ(b => b.RetrievedOn))),
            .. If(PairPlotsDiffer, Differ(b => b.Plot) || Differ(b => b.Treatment)),
            .. If(PairSitesDiffer, Differ(b => b.SiteId)),
            .. If(RoleDiffersFromLot, Array.Exists(bags, b => b.Bag.Role != b.Lot.Role)),
            .. If(RateNotPositive, rate <= 0),
        ];

        bool Differ<T>(Func<BagRow, T> of) => bags.Select(b => of(b.Bag)).Distinct().Count() > 1;
    }

    private static bool IsGain(Computed<RemainingFraction> remaining) =>
        remaining.Value is { } w && w.Fraction > 1 + PlateauDoubt.Coverage * w.Uncertainty;

    /// <summary>The litter before burial (g) where it is further from the lot's nominal mass than the lot allows; else null.</summary>
    public static double? OffNominalGrams(BagRow bag, LotRow lot) =>
        bag.MassInitialGrams is { } initial
            && lot is { LitterMassNominalGrams: { } nominal, LitterMassToleranceGrams: { } tolerance }
            && (bag.MassBasis == MassBasis.Litter ? 0 : lot.TareGrams) is { } tare
            // a billionth of a gram: a mass written exactly at the tolerance is within it, whatever binary fractions make of it
            && Math.Abs(initial - tare - nominal) > tolerance + 1e-9
            ? initial - tare : null;

    private static string[] If(string doubt, bool isSo) => isSo ? [doubt] : [];
}
