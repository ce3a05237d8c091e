using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;

namespace DecayAtlas.Decomposition.Plans;

/// <summary>
/// The chance that a planned comparison shows a difference, by formula: that of the two-sided t test,
/// <c>P(|T| &gt; t(1 - α/2, df))</c>, T noncentral t with δ = difference/se (Cohen 1988, chapter 2, from memory). Where variances are
/// uncertain, its mean over what they may be ("assurance", O'Hagan, Stevens and Campbell 2005, Pharmaceutical Statistics 4:187-201, from
/// memory).
/// </summary>
public sealed class PlannedPower
{
    private const int PairsOfDraws = 100;

    private readonly DesignError[] _errors;
    private readonly double _level;

    /// <param name="design">Its number of sites is not looked at.</param>
    /// <param name="seed">Of the draws of uncertain variances.</param>
    public PlannedPower(PlannedDesign design, PlanVariances variances, double level = 0.05, ulong seed = 1)
    {
        _level = level;
        RandomStream random = new(seed, "variances of a plan");
        // each draw with its mirror image, whose errors almost cancel in the mean
        _errors = variances.AreUncertain
            ? [.. Enumerable.Range(0, PairsOfDraws).Select(_ => PlanVariances.Deviates(random))
                .SelectMany(z => new[] { z, [.. z.Select(x => -x)] }).Select(z => new DesignError(design, variances.At(z)))]
            : [new DesignError(design, variances)];
    }

    public double Of(double difference, int sitesPerGroup) => _errors.Average(e =>
    {
        (double se, double df) = e.At(sitesPerGroup);
        // the comparison tells nothing then
        if (df < 0.95)
            return 0;
        df = Math.Min(df, 1e5);
        double critical = StudentT.InvCDF(0, 1, df, 1 - _level / 2), delta = Math.Abs(difference) / se;
        return 1 - NoncentralT.Cdf(critical, df, delta) + NoncentralT.Cdf(-critical, df, delta);
    });

    /// <summary>The smallest difference that is seen with a power; missing where none is.</summary>
    public double? SmallestDifference(double power, int sitesPerGroup)
    {
        double high = 4 * _errors.Average(e => e.At(sitesPerGroup).StandardError);
        for (int doubled = 0; Of(high, sitesPerGroup) < power; doubled++)
        {
            if (doubled == 8)
                return null;
            high *= 2;
        }

        return Brent.FindRoot(d => Of(d, sitesPerGroup) - power, 0, high, 1e-5 * high);
    }

    /// <summary>The fewest sites of each group that reach a power; missing where <paramref name="mostSites"/> do not.</summary>
    public int? FewestSites(double difference, double power, int mostSites)
    {
        if (Of(difference, mostSites) < power)
            return null;
        int low = 1, high = mostSites;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = Of(difference, middle) >= power ? (low, middle) : (middle, high);
        }

        return high;
    }
}
