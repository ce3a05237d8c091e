namespace DecayAtlas.Contributions.Schema;

/// <summary>What rows say of a litter and its weighings, in the terms of the equations.</summary>
public static class WeighedRows
{
    public static LitterLot Litter(this LotRow row) => new(
        row.HydrolysableFraction, row.HydrolysableFractionSd, row.AshFraction, row.AshFractionSd, row.TareGrams, row.TareSdGrams,
        row.HydrolysableBasis ?? FractionBasis.Dry, row.HydrolysableParts ?? HydrolysableParts.AllSoluble,
        row.NonpolarFraction, row.NonpolarFractionSd, row.WaterSolubleFraction, row.WaterSolubleFractionSd);

    public static BagWeighing Weighing(this BagRow row, LotRow lot, MeasurementAssumptions assumptions) => new(
        row.MassInitialGrams,
        // what was weighed was not the bag that was lost
        row.Condition == BagCondition.Lost ? null : row.MassFinalGrams, row.MassBasis, row.AshFraction, row.BalanceResolutionGrams,
        InitialWater(row, lot, assumptions), FinalWater(row, assumptions))
    {
        MassInitialSdGrams = row.MassInitialSdGrams ?? 0,
        MassFinalSdGrams = row.MassFinalSdGrams ?? 0,
    };

    private static Water InitialWater(BagRow row, LotRow lot, MeasurementAssumptions assumptions)
    {
        if (row.MoistureInitialFraction is { } measured)
            return Water.Measured(measured, row.MoistureInitialFractionSd ?? assumptions.MoistureSd);
        return row.DryingInitial switch
        {
            Drying.Oven or Drying.Freeze => Water.Dried(assumptions.MoistureSd),
            Drying.None when lot.MoistureFraction is { } supplied =>
                Water.OfLot(supplied, lot.MoistureFractionSd ?? assumptions.MoistureSd),
            _ => Water.Unspoken(lot.MoistureFraction, lot.MoistureFractionSd, assumptions),
        };
    }

    private static Water FinalWater(BagRow row, MeasurementAssumptions assumptions)
    {
        if (row.MoistureFinalFraction is { } measured)
            return Water.Measured(measured, row.MoistureFinalFractionSd ?? assumptions.MoistureSd);
        return row.Drying switch
        {
            Drying.Oven or Drying.Freeze => Water.Dried(assumptions.MoistureSd),
            Drying.None => Water.UpTo(assumptions.MoistureMostUndried),
            _ => Water.UpTo(assumptions.MoistureMostAirDry),
        };
    }
}
