namespace DecayAtlas.Decomposition.Burials;

/// <summary>The chemistry and tare that all bags of one production lot of a standard litter share.</summary>
/// <param name="HydrolysableFraction">Hydrolysable share H of the litter, by mass (0 &lt; H ≤ 1), with its standard uncertainty.</param>
/// <param name="AshFraction">Ash share of the litter as supplied (0 ≤ A &lt; 1), where known.</param>
/// <param name="TareGrams">Mass of bag, string and label, where known.</param>
/// <param name="TareSdGrams">Its standard deviation from bag to bag, where known.</param>
public sealed record LitterLot(
    double HydrolysableFraction,
    double HydrolysableFractionSd,
    double? AshFraction = null,
    double? AshFractionSd = null,
    double? TareGrams = null,
    double? TareSdGrams = null);
