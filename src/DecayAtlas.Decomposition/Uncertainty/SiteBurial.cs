namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>One burial's value as it enters the mean of its site.</summary>
/// <param name="Value">k, ln k or S, in its unit.</param>
/// <param name="Lot">What it shares with the burials made from the same lots, in the same unit (for ln k: the effects on k over k).</param>
/// <param name="Plot">The plot within the site, where burials are nested in plots.</param>
public readonly record struct SiteBurial(double Value, LotSharedPart Lot, string? Plot = null)
{
    /// <summary>A burial's k or S.</summary>
    public static SiteBurial Of(Estimate estimate, string fastLotKey, string slowLotKey, string? plot = null) =>
        new(estimate.Value, new LotSharedPart(fastLotKey, slowLotKey, estimate.Lot), plot);

    /// <summary>A burial's ln k, <c>u(ln k) = u(k)/k</c>; <see langword="null"/> where k is not above 0.</summary>
    public static SiteBurial? OfLn(Estimate rate, string fastLotKey, string slowLotKey, string? plot = null) => rate.Value > 0
        ? new SiteBurial(
            Math.Log(rate.Value),
            new LotSharedPart(fastLotKey, slowLotKey, new LotErrors(
                rate.Lot.FastHydrolysable / rate.Value, rate.Lot.SlowHydrolysable / rate.Value, rate.Lot.FastAsh / rate.Value, rate.Lot.SlowAsh / rate.Value)),
            plot)
        : null;
}

/// <summary>What counts as one independent replicate of a site.</summary>
public enum ReplicationUnit
{
    /// <summary>Each burial.</summary>
    Burial,

    /// <summary>Each plot: burials of one plot are averaged first, since they are not independent samples of the site (Hurlbert 1984, Ecological Monographs 54:187-211).</summary>
    Plot,
}
