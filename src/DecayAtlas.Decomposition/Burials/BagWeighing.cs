namespace DecayAtlas.Decomposition.Burials;

/// <summary>The two weighings of one bag, as its contributor sent them.</summary>
/// <param name="AshFraction">Ash share of the retrieved litter (0 ≤ A &lt; 1, of dry mass), where measured.</param>
/// <param name="InitialWater">Water in the litter at the first weighing.</param>
/// <param name="FinalWater">Water in the litter at the second.</param>
public sealed record BagWeighing(
    double? MassInitialGrams,
    double? MassFinalGrams,
    MassBasis Basis,
    double? AshFraction = null,
    double? BalanceResolutionGrams = null,
    Water InitialWater = default,
    Water FinalWater = default)
{
    /// <summary>Standard uncertainty of the first mass beside balance and tare (g): it is a mean of several bags, or an empty bag was taken
    /// off.</summary>
    public double MassInitialSdGrams { get; init; }

    /// <summary>So of the last mass.</summary>
    public double MassFinalSdGrams { get; init; }
}
