namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>Whether the weights of a bag before and after burial stand in each other's cells.</summary>
internal static class SwappedWeighings
{
    // a bag that gains this share of its litter gained no mere water or soil (common practice, no source)
    private const double LeastGain = 0.1;

    /// <summary>It gained, the last weight is one that a bag of the lot has at first, and the first one that it may have at last; no
    /// decimal sign explains it.</summary>
    public static bool Are(BagRow bag, LotRow lot) => bag is { MassInitialGrams: { } before, MassFinalGrams: { } after }
        && (bag.MassBasis == MassBasis.Litter ? 0 : lot.TareGrams) is { } tare && before > tare
        && after - tare > (1 + LeastGain) * (before - tare)
        && (lot.LitterMassNominalGrams is not { } nominal || (TenfoldMass.IsNominal(after - tare, nominal)
            && !TenfoldMass.IsGone(before - tare, after - tare, lot.HydrolysableFraction)))
        && TenfoldMass.Of(tare, lot.LitterMassNominalGrams, lot.HydrolysableFraction, before, after).Count == 0;
}
