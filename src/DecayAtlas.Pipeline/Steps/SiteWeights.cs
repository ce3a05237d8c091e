namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// How certain a site's mean of ln k is beside the others: weight = 1 / (τ² + σ²/n), scaled so that a site with a thousand
/// burials would weigh 1. σ² is the variance between burials, pooled over sites; τ² the variance between sites, by the
/// method of moments (one-way random effects). Where sites differ much more than burials, weights are nearly equal.
/// </summary>
/// <remarks>Source: inverse-variance weighting; moments after Searle, Casella and McCulloch 1992, Variance Components, ch. 3 (from
/// memory).</remarks>
internal sealed class SiteWeights
{
    private readonly double _within;
    private readonly double _between;

    private SiteWeights(double within, double between) => (_within, _between) = (within, between);

    public double Of(int burials) => OfVariance(_within / burials);

    /// <summary>The weight of a mean whose own variance is known.</summary>
    public double OfVariance(double ofMean) => _between + _within == 0 ? 1 : (_between + _within / 1000) / (_between + ofMean);

    public static SiteWeights Of(IEnumerable<(double Mean, double? Sd, int Count)> sites)
    {
        (double Mean, double? Sd, int Count)[] all = [.. sites];
        double squares = all.Sum(s => s.Sd is { } sd ? sd * sd * (s.Count - 1) : 0);
        int freedom = all.Sum(s => s.Sd is null ? 0 : s.Count - 1);
        if (freedom == 0 || all.Length < 2)
            return new SiteWeights(0, 0);

        double within = squares / freedom;
        double mean = all.Average(s => s.Mean);
        double ofMeans = all.Sum(s => (s.Mean - mean) * (s.Mean - mean)) / (all.Length - 1);
        return new SiteWeights(within, Math.Max(0, ofMeans - within * all.Average(s => 1.0 / s.Count)));
    }
}
