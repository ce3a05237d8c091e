namespace DecayAtlas.Decomposition.Burials;

/// <summary>What a share of litter mass is a share of.</summary>
public enum FractionBasis
{
    /// <summary>Dry mass, ash and all.</summary>
    Dry,

    /// <summary>Dry mass less its ash.</summary>
    AshFree,
}
