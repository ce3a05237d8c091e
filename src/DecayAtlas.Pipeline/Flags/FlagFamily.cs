namespace DecayAtlas.Pipeline.Flags;

/// <summary>What a flag is about, in the order of the documentation.</summary>
public enum FlagFamily
{
    Physical,
    Protocol,
    Place,
    Copy,
    Outlier,
}
