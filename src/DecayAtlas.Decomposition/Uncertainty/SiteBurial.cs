namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>One burial's value as it enters the mean of its site.</summary>
/// <param name="Value">k or S, in its unit.</param>
/// <param name="Shared">What it shares with the burials of the same lots and batches, in the same unit.</param>
/// <param name="Plot">Where burials are nested in plots.</param>
public readonly record struct SiteBurial(double Value, SharedPart Shared, string? Plot = null)
{
    public static SiteBurial Of(Estimate estimate, SharedKeys keys, string? plot = null) =>
        new(estimate.Value, new SharedPart(keys, estimate.Shared), plot);
}

/// <summary>What counts as one independent replicate of a site.</summary>
public enum ReplicationUnit
{
    Burial,

    /// <summary>Each plot: burials of one plot are averaged first, since they are not independent samples of the site (Hurlbert 1984,
    /// Ecological Monographs 54:187-211).</summary>
    Plot,
}
