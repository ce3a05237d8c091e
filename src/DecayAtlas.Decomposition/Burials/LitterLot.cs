namespace DecayAtlas.Decomposition.Burials;

/// <summary>Which fractions of the litter a stated H counts.</summary>
public enum HydrolysableParts
{
    /// <summary>Non-polar extractives, water soluble and acid soluble: all organic matter that is not acid-insoluble. The equations ask
    /// for this one.</summary>
    AllSoluble,

    /// <summary>Without the non-polar extractives.</summary>
    WaterAndAcidSoluble,

    /// <summary>The acid soluble alone.</summary>
    AcidSoluble,
}

/// <summary>The chemistry and tare that all bags of one production lot of a standard litter share.</summary>
/// <param name="HydrolysableFraction">Hydrolysable share H of the litter, by mass (0 &lt; H ≤ 1), with its standard uncertainty.</param>
/// <param name="AshFraction">Ash share of the dry litter as supplied (0 ≤ A &lt; 1), where known.</param>
/// <param name="TareGrams">Mass of the empty bag with all that hangs on it, where known.</param>
/// <param name="TareSdGrams">Its standard deviation from bag to bag, where known.</param>
/// <param name="HydrolysableBasis">What H, and the two fractions below, are shares of.</param>
/// <param name="NonpolarFraction">Share of non-polar extractives, where known; added to an H that does not count them.</param>
/// <param name="WaterSolubleFraction">Share of water soluble matter, where known; added to an H that does not count it.</param>
public sealed record LitterLot(
    double HydrolysableFraction,
    double HydrolysableFractionSd,
    double? AshFraction = null,
    double? AshFractionSd = null,
    double? TareGrams = null,
    double? TareSdGrams = null,
    FractionBasis HydrolysableBasis = FractionBasis.Dry,
    HydrolysableParts HydrolysableParts = HydrolysableParts.AllSoluble,
    double? NonpolarFraction = null,
    double? NonpolarFractionSd = null,
    double? WaterSolubleFraction = null,
    double? WaterSolubleFractionSd = null)
{
    /// <summary>The stated fractions and the ash of the dry litter, as a share of it, where they come to more than all of it (1); missing
    /// where they can be so.</summary>
    public double? PartsAboveWhole()
    {
        double ash = AshFraction ?? 0;
        double parts = HydrolysableFraction
            + (HydrolysableParts == HydrolysableParts.AcidSoluble ? WaterSolubleFraction ?? 0 : 0)
            + (HydrolysableParts == HydrolysableParts.AllSoluble ? 0 : NonpolarFraction ?? 0);
        double sum = HydrolysableBasis == FractionBasis.AshFree ? parts * (1 - ash) + ash : parts + ash;
        // a billionth: shares written to come to 1 do, whatever binary fractions make of them
        return sum > 1 + 1e-9 ? sum : null;
    }
}
