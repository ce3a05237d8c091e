using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>How many resamples, from which seed.</summary>
public sealed record BootstrapOptions(int Resamples = 4000, ulong Seed = 1);

/// <summary>Bootstrap interval of a site's mean.</summary>
/// <param name="Uncertainty">Standard deviation over the resamples, and what burials share.</param>
public sealed record BootstrapInterval(int Units, ReplicationUnit Unit, double Mean, double Uncertainty, double Lower95, double Upper95);

/// <summary>
/// Bootstrap of a site's mean: units (burials, or whole plots where burials are nested in plots) are resampled with replacement,
/// and the distance of either end from the mean is added in squares to that of what they share (see <see cref="SiteInterval"/>).
/// </summary>
/// <remarks>Whole plots, since resampling the top level alone keeps the variance between and within plots (Davison and Hinkley 1997,
/// Bootstrap Methods and their Application, 3.8; from memory). The interval is the percentile interval with its tail widened to
/// Φ(-√(n/(n-1)) t(0.975, n-1)), which mends its narrowness in small samples (Hesterberg 2015, The American Statistician 69:371-386,
/// expanded percentile interval). Even so a resample never leaves the range of the data: with 4 units it covers 87 %, with 5 to 7 just 93 %
/// (simulated, normal data), and below 8 it is not given; use <see cref="SiteInterval"/> there.</remarks>
public static class SiteBootstrap
{
    public const int FewestUnits = 8;

    /// <param name="siteKey">Name of the site; it fixes the stream of random numbers.</param>
    public static Answer<BootstrapInterval> Of(IReadOnlyList<SiteBurial> burials, BootstrapOptions options, string siteKey = "")
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(options.Resamples, 100);
        if (burials.Any(b => !double.IsFinite(b.Value)))
            return Unanswered.NotFinite("values of the burials");
        SiteUnits units = SiteUnits.Of(burials);
        int n = units.Means.Length;
        if (n < FewestUnits)
            return Unanswered.TooFew(units.Unit == ReplicationUnit.Plot ? "plots to resample" : "burials to resample", n, FewestUnits);
        if (units.Means.All(m => m == units.Means[0]))
            return Unanswered.NoScatter("values of the site");

        RandomStream random = new(options.Seed, "bootstrap/" + siteKey);
        double[] means = new double[options.Resamples];
        for (int r = 0; r < means.Length; r++)
        {
            double sum = 0;
            for (int i = 0; i < n; i++)
                sum += units.Means[random.NextIndex(n)];
            means[r] = sum / n;
        }

        BetweenUnits shared = BetweenUnits.Of(units);
        double spread = SampleSummary.Of(means)!.Sd!.Value, mean = units.Means.Average(), half = shared.HalfWidth95;
        Array.Sort(means);
        double tail = Normal.CDF(0, 1, -Math.Sqrt(n / (n - 1.0)) * StudentT.InvCDF(0, 1, n - 1, 0.975));
        int cut = (int)(tail * means.Length);
        return new BootstrapInterval(
            n, units.Unit, mean, Math.Sqrt(spread * spread + shared.Variance),
            mean - double.Hypot(mean - means[cut], half), mean + double.Hypot(means[means.Length - 1 - cut] - mean, half));
    }
}
