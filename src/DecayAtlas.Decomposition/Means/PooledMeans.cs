namespace DecayAtlas.Decomposition.Means;

/// <summary>Several rows of means over burials of one site, taken together.</summary>
/// <param name="Shared">Missing where it is of any row.</param>
public sealed record PooledMeans(SampleSummary Summary, SharedUncertainty? Shared)
{
    /// <summary>The mean with one interval of scatter and what is shared; missing where either is not known.</summary>
    public SiteMean? Interval() => Shared is { } shared ? SiteInterval.OfMoments(Summary, shared) : null;

    /// <summary>Mean, scatter and what is shared, of all burials that the rows stand for; <see langword="null"/> for no row.</summary>
    /// <remarks>Sums of squares within rows and between their means, as of one sample; the scatter is missing where that of any row
    /// is.</remarks>
    /// <param name="rows">Each mean with the lots and the batch it was made with.</param>
    public static PooledMeans? Of(IReadOnlyList<(MeanWithErrors Mean, SharedKeys Keys)> rows)
    {
        if (rows.Count == 0)
            return null;
        int burials = rows.Sum(r => r.Mean.Burials);
        double mean = rows.Sum(r => r.Mean.Burials * r.Mean.Mean) / burials;
        bool isScatterKnown = burials > 1 && rows.All(r => r.Mean.Sd is not null || r.Mean.Burials == 1);
        double squares = rows.Sum(r => (r.Mean.Burials - 1) * Square(r.Mean.Sd ?? 0) + r.Mean.Burials * Square(r.Mean.Mean - mean));
        SharedUncertainty? shared = rows.Any(r => r.Mean.Shared is null) ? null : SharedUncertainty.OfWeightedSum(
            rows.Select(r => (new SharedPart(r.Keys, r.Mean.Shared!.Value), (double)r.Mean.Burials / burials)));
        return new PooledMeans(
            SampleSummary.OfMoments(burials, mean, isScatterKnown ? Math.Sqrt(squares / (burials - 1)) : null), shared);
    }

    private static double Square(double x) => x * x;
}
