namespace DecayAtlas.Contributions.Schema;

/// <summary>One bag with its lot, and what of the litter remained.</summary>
/// <param name="Basis">The best basis that this bag allows by itself; a burial or a series may need the other.</param>
/// <param name="Remaining">On that basis.</param>
/// <param name="RemainingDry">On a dry basis, ash and all.</param>
public sealed record WeighedBag(
    BagRow Row, LotRow Lot, FractionBasis Basis, Computed<RemainingFraction> Remaining, Computed<RemainingFraction> RemainingDry)
{
    /// <summary>Ash in the bag over the ash that its litter began with (1), with its standard uncertainty; missing where either is not
    /// known, or the litter had none.</summary>
    public (double Share, double Uncertainty)? AshLeft { get; private init; }

    public static WeighedBag Of(BagRow row, LotRow lot, MeasurementAssumptions assumptions)
    {
        BagWeighing weighing = row.Weighing(lot, assumptions);
        LitterLot litter = lot.Litter();
        FractionBasis basis = RemainingFraction.BasisOf((weighing, litter));
        Computed<RemainingFraction> remaining = RemainingFraction.Of(weighing, litter, basis, assumptions);
        Computed<RemainingFraction> dry =
            basis == FractionBasis.Dry ? remaining : RemainingFraction.Of(weighing, litter, FractionBasis.Dry, assumptions);
        return new WeighedBag(row, lot, basis, remaining, dry)
        {
            AshLeft = dry.Value is { } w ? AshLeftOf(w, row.AshFraction, lot, assumptions) : null,
        };
    }

    // w A_b/A_l, to first order (JCGM 100:2008, 5.1.2)
    private static (double, double)? AshLeftOf(RemainingFraction dry, double? ofBag, LotRow lot, MeasurementAssumptions assumptions)
    {
        if (ofBag is not { } ash || lot.AshFraction is not > 0)
            return null;
        double begun = lot.AshFraction.Value, share = dry.Fraction * ash / begun;
        double ofW = ash / begun * dry.Uncertainty, ofAsh = dry.Fraction / begun * assumptions.AshFractionSd,
            ofLot = share / begun * (lot.AshFractionSd ?? assumptions.AshFractionSd);
        return (share, Math.Sqrt(ofW * ofW + ofAsh * ofAsh + ofLot * ofLot));
    }
}
