namespace DecayAtlas.Contributions.Schema;

/// <summary>One bag with its lot, and what of the litter remained.</summary>
/// <param name="Basis">The best basis that this bag allows by itself; a burial or a series may need the other.</param>
/// <param name="Remaining">On that basis.</param>
/// <param name="RemainingDry">On a dry basis, ash and all.</param>
public sealed record WeighedBag(
    BagRow Row, LotRow Lot, FractionBasis Basis, Computed<RemainingFraction> Remaining, Computed<RemainingFraction> RemainingDry)
{
    public static WeighedBag Of(BagRow row, LotRow lot, MeasurementAssumptions assumptions)
    {
        BagWeighing weighing = row.Weighing(lot, assumptions);
        LitterLot litter = lot.Litter();
        FractionBasis basis = RemainingFraction.BasisOf((weighing, litter));
        Computed<RemainingFraction> remaining = RemainingFraction.Of(weighing, litter, basis, assumptions);
        return new WeighedBag(row, lot, basis, remaining,
            basis == FractionBasis.Dry ? remaining : RemainingFraction.Of(weighing, litter, FractionBasis.Dry, assumptions));
    }
}
