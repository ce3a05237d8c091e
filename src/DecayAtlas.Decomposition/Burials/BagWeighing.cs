namespace DecayAtlas.Decomposition.Burials;

/// <summary>The two weighings of one bag, as its contributor sent them.</summary>
/// <param name="MassInitialGrams">Dry mass before burial (g).</param>
/// <param name="MassFinalGrams">Dry mass after retrieval (g).</param>
/// <param name="Basis">Whether both masses include the bag.</param>
/// <param name="AshFraction">Ash share of the retrieved dry litter (0 ≤ A &lt; 1), where measured.</param>
/// <param name="BalanceResolutionGrams">Resolution of the balance (g), where stated.</param>
/// <param name="MoistureSd">Standard uncertainty of the retrieved litter's dry mass from the moisture that drying left in it, as a share of
/// that mass (1).</param>
public sealed record BagWeighing(
    double? MassInitialGrams,
    double? MassFinalGrams,
    MassBasis Basis,
    double? AshFraction = null,
    double? BalanceResolutionGrams = null,
    double MoistureSd = 0);
