namespace DecayAtlas.Contributions.Judging;

/// <summary>Why the k of a burial may not count in the atlas, as far as its own contribution tells, under the codes of the flags that will
/// say so. What needs other contributions, grids or a curator's settings is known in the night alone, so that this is the least.</summary>
public static class ForeseenDoubts
{
    public const string BagDamaged = "bag-damaged", ExposureShort = "exposure-short", ExposureLong = "exposure-long",
        PlateauNotReached = "plateau-not-reached", FastLossBeyond = "fast-loss-beyond-hydrolysable",
        MassOffNominal = "mass-initial-off-nominal",
        NotDried = "not-dried", RateNotPositive = "rate-not-positive";

    public static IReadOnlyList<string> All { get; } =
        [BagDamaged, ExposureShort, ExposureLong, PlateauNotReached, FastLossBeyond, MassOffNominal, NotDried, RateNotPositive];

    internal static IReadOnlyList<string> Of(WeighedBurial burial, (BagRow Bag, LotRow Lot)[] bags)
    {
        double? rate = burial.Rate.Value?.RatePerDay.Value, days = burial.InSoil?.Days;
        return
        [
            .. If(BagDamaged, Array.Exists(bags, b => b.Bag.Condition is BagCondition.Torn or BagCondition.Roots)),
            .. If(ExposureShort, days < UsualRange.ExposureDays.Least),
            .. If(ExposureLong, days > UsualRange.ExposureDays.Most),
            .. If(PlateauNotReached, rate is { } k && burial.StabilisationFactor.Value is { } s && days is > 0
                && PlateauDoubt.Of(days.Value, k, burial.RateInterval?.Upper95PerDay, s.Value, s.Uncertainty) is not null),
            .. If(FastLossBeyond, burial.StabilisationFactor.Value is { } below
                && below.Value < -PlateauDoubt.Coverage * below.Uncertainty),
            .. If(MassOffNominal, Array.Exists(bags, b => OffNominalGrams(b.Bag, b.Lot) is not null)),
            .. If(NotDried, Array.Exists(bags, b =>
                b.Bag is { Drying: Drying.None, MoistureFinalFraction: null, MassFinalGrams: not null })),
            .. If(RateNotPositive, rate <= 0),
        ];
    }

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
