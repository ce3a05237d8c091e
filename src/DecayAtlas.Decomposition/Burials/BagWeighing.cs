namespace DecayAtlas.Decomposition.Burials;

/// <summary>The two weighings of one bag (dry mass), as its contributor sent them.</summary>
/// <param name="AshFraction">Ash share of the retrieved litter (0 ≤ A &lt; 1), where measured.</param>
/// <param name="MoistureSd">Standard uncertainty of the final dry mass from moisture that drying left, as a share of it (1).</param>
public sealed record BagWeighing(
    double? MassInitialGrams,
    double? MassFinalGrams,
    MassBasis Basis,
    double? AshFraction = null,
    double? BalanceResolutionGrams = null,
    double MoistureSd = 0);
