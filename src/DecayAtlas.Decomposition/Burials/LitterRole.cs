namespace DecayAtlas.Decomposition.Burials;

/// <summary>Which of the two standard litters a bag holds.</summary>
public enum LitterRole
{
    /// <summary>The litter that breaks down fast; it gives the stabilisation factor S.</summary>
    Fast,

    /// <summary>The litter that breaks down slowly; it gives the decay rate k.</summary>
    Slow,
}
