namespace DecayAtlas.Decomposition.Burials;

/// <summary>The chemistry and tare that all bags of one production lot of a standard litter share.</summary>
/// <param name="HydrolysableFraction">Hydrolysable share H of the litter, by mass (0 &lt; H ≤ 1).</param>
/// <param name="HydrolysableFractionSd">Standard uncertainty of H (≥ 0).</param>
/// <param name="AshFraction">Ash share of the litter as supplied (0 ≤ A &lt; 1), where known.</param>
/// <param name="AshFractionSd">Standard uncertainty of the ash share, where known.</param>
/// <param name="TareGrams">Mass of bag, string and label (g), where known.</param>
/// <param name="TareSdGrams">Standard deviation of that mass from bag to bag (g), where known.</param>
public sealed record LitterLot(
    double HydrolysableFraction,
    double HydrolysableFractionSd,
    double? AshFraction = null,
    double? AshFractionSd = null,
    double? TareGrams = null,
    double? TareSdGrams = null);
