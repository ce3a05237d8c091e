namespace DecayAtlas.Decomposition.Burials;

/// <summary>What the two weighings of a bag include.</summary>
public enum MassBasis
{
    /// <summary>Litter in its bag, with all that hangs on it: the tare of the lot is taken off.</summary>
    Gross,

    /// <summary>Litter alone: nothing is taken off.</summary>
    Litter,
}
