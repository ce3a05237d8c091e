namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>One burial's value as it enters the mean of its site.</summary>
/// <param name="Value">k or S, in its unit.</param>
/// <param name="Lot">What it shares with the burials made from the same lots, in the same unit.</param>
/// <param name="Plot">Where burials are nested in plots.</param>
public readonly record struct SiteBurial(double Value, LotSharedPart Lot, string? Plot = null)
{
    public static SiteBurial Of(Estimate estimate, string fastLotKey, string slowLotKey, string? plot = null) =>
        new(estimate.Value, new LotSharedPart(fastLotKey, slowLotKey, estimate.Lot), plot);
}

/// <summary>What counts as one independent replicate of a site.</summary>
public enum ReplicationUnit
{
    Burial,

    /// <summary>Each plot: burials of one plot are averaged first, since they are not independent samples of the site (Hurlbert 1984,
    /// Ecological Monographs 54:187-211).</summary>
    Plot,
}
