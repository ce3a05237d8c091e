namespace DecayAtlas.Questions.Sensitivity;

/// <summary>All that a release is tried with; a new one is a line here and its words in the texts of the pages.</summary>
public static class Suppositions
{
    /// <summary>By how much the exposure window is made narrower and wider at each end (d; common practice, no source).</summary>
    private const int WindowShiftDays = 15;

    public static IReadOnlyList<Supposition> Of(SensitivityBasis basis)
    {
        MeasurementAssumptions assumed = basis.Assumptions;
        double offset = assumed.BalanceOffsetSdGrams;
        return
        [
            HydrolysableOf("h-fast-high", LitterRole.Fast, +1), HydrolysableOf("h-fast-low", LitterRole.Fast, -1),
            HydrolysableOf("h-slow-high", LitterRole.Slow, +1), HydrolysableOf("h-slow-low", LitterRole.Slow, -1),
            new("h-other-basis", "every H were a share of the other basis than stated, dry or ash-free")
            {
                Lot = lot => lot with
                {
                    HydrolysableBasis = lot.HydrolysableBasis == FractionBasis.AshFree ? FractionBasis.Dry : FractionBasis.AshFree,
                },
            },
            new("initial-water-none", "litter of which nothing was said had held no water at the first weighing")
            {
                Bag = (bag, lot) => WithInitialWater(bag, lot, assumed, _ => 0),
            },
            new("initial-water-most", "litter of which nothing was said had held the most water thought possible at the first weighing")
            {
                Bag = (bag, lot) => WithInitialWater(bag, lot, assumed, MostOf),
            },
            new("final-water-none", "litter of which nothing was said had held no water at the second weighing")
            {
                Bag = (bag, lot) => WithFinalWater(bag, lot, assumed, _ => 0),
            },
            new("final-water-most", "litter of which nothing was said had held the most water thought possible at the second weighing")
            {
                Bag = (bag, lot) => WithFinalWater(bag, lot, assumed, MostOf),
            },
            new("balance-high", Invariant($"every balance had read {offset} g too much"))
            {
                Bag = (bag, _) => bag with
                {
                    MassInitialGrams = bag.MassInitialGrams - offset,
                    MassFinalGrams = bag.MassFinalGrams - offset,
                },
            },
            Window("window-narrow", WindowShiftDays), Window("window-wide", -WindowShiftDays),
            new("plateau-corrected",
                Invariant($"k and S were corrected for a fast litter that decays {basis.FastOverSlow} times as fast as the slow one"))
            {
                FastOverSlow = basis.FastOverSlow,
            },
            new("plateau-taken", "burials whose fast litter had not reached its plateau counted as they are") { TakesUnreached = true },
            new("plateau-taken-corrected", "such burials counted, and k and S of all were corrected")
            {
                FastOverSlow = basis.FastOverSlow,
                TakesUnreached = true,
            },
        ];

        Supposition Window(string id, int shift) =>
            new(id, $"exposures of {basis.ShortestDays + shift} to {basis.LongestDays - shift} days counted")
            {
                Days = (basis.ShortestDays + shift, basis.LongestDays - shift),
            };
    }

    /// <summary>Another share of water where the release knows no more than a range; what was said or measured stays.</summary>
    internal static BagRow WithInitialWater(BagRow bag, LotRow lot, MeasurementAssumptions assumptions, Func<Water, double> share) =>
        bag.Weighing(lot, assumptions).InitialWater is { IsRange: true } water
            ? bag with { MoistureInitialFraction = share(water), MoistureInitialFractionSd = 0 } : bag;

    private static BagRow WithFinalWater(BagRow bag, LotRow lot, MeasurementAssumptions assumptions, Func<Water, double> share) =>
        bag.Weighing(lot, assumptions).FinalWater is { IsRange: true } water
            ? bag with { MoistureFinalFraction = share(water), MoistureFinalFractionSd = 0 } : bag;

    /// <summary>The upper end of a range whose mean is the best estimate and whose lower end is none.</summary>
    private static double MostOf(Water range) => 2 * range.Share;

    private static Supposition HydrolysableOf(string id, LitterRole role, int sds) =>
        new(id, $"H of every {AtlasCode.Of(role)} lot were one standard uncertainty {(sds > 0 ? "higher" : "lower")}")
        {
            Lot = lot => lot.Role == role
                ? lot with { HydrolysableFraction = lot.HydrolysableFraction + sds * lot.HydrolysableFractionSd } : lot,
        };
}
