namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>A burial with a k above 0, as it enters the geometric mean of its site.</summary>
/// <param name="RatePerDay">k (d⁻¹).</param>
/// <param name="Plot">Where burials are nested in plots.</param>
public sealed record RatedBurial(
    RemainingFraction Fast, RemainingFraction Slow, Exposure Exposure, double RatePerDay, SharedKeys Keys, string? Plot = null)
{
    /// <summary>
    /// The values ln k (k in d⁻¹) of a site's burials with the errors they share, made for all of them at the geometric mean of k: a
    /// burial's own k is uncertain, and near its plateau the effect of a shared error on it grows without bound.
    /// </summary>
    public static SiteBurial[] LogRates(IReadOnlyCollection<RatedBurial> burials)
    {
        if (burials.Count == 0)
            return [];
        double mean = Math.Exp(burials.Average(b => Math.Log(b.RatePerDay)));
        return
        [
            .. burials.Select(b => new SiteBurial(
                Math.Log(b.RatePerDay), new SharedPart(b.Keys, new LossContrast(b.Fast, b.Slow, b.Exposure).LogRateErrors(mean)), b.Plot)),
        ];
    }
}
