using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>What a planned comparison of two groups of g sites, m burials in each, would see.</summary>
public sealed record PlannedComparison(int SitesPerGroup, int BurialsPerSite, double StandardError, double Power);

/// <summary>
/// How many sites and burials are needed to see a stated difference between two groups of sites:
/// <code>
/// se² = 2 (σ_site²/g + σ²/(g m)),   df = 2 (g - 1)
/// power = P(|T| &gt; t(1 - α/2, df)),   T noncentral t with δ = difference/se
/// </code>
/// </summary>
/// <remarks>Source: balanced nested design, Snedecor and Cochran 1980, Statistical Methods, 13.10 (from memory); power of the t test, Cohen
/// 1988, chapter 2. Burials can't stand in for sites: as m grows, se² tends to 2 σ_site²/g.</remarks>
public static class Planning
{
    /// <param name="difference">For example in ln k.</param>
    /// <param name="siteVariance">Between sites of a group, σ_site².</param>
    /// <param name="burialVariance">Between burials of a site, σ².</param>
    public static PlannedComparison Power(
        double difference, double siteVariance, double burialVariance, int sitesPerGroup, int burialsPerSite, double level = 0.05)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sitesPerGroup, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(burialsPerSite, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(siteVariance);
        ArgumentOutOfRangeException.ThrowIfNegative(burialVariance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(siteVariance + burialVariance);
        double se = Math.Sqrt(2 * (siteVariance + burialVariance / burialsPerSite) / sitesPerGroup);
        double df = 2 * (sitesPerGroup - 1), critical = StudentT.InvCDF(0, 1, df, 1 - level / 2), delta = Math.Abs(difference) / se;
        double power = 1 - NoncentralT.Cdf(critical, df, delta) + NoncentralT.Cdf(-critical, df, delta);
        return new PlannedComparison(sitesPerGroup, burialsPerSite, se, power);
    }

    /// <summary>For 1 to <paramref name="mostBurials"/> burials a site the fewest sites that reach the power.</summary>
    /// <returns>One design for each number of burials; a statement where even 10,000 sites a group do not reach it.</returns>
    public static Answer<PlannedComparison[]> Needed(
        double difference, double siteVariance, double burialVariance, int mostBurials, double power = 0.8, double level = 0.05)
    {
        const int mostSites = 10_000;
        List<PlannedComparison> designs = new();
        for (int m = 1; m <= mostBurials; m++)
        {
            if (!(Power(difference, siteVariance, burialVariance, mostSites, m, level).Power >= power))
                return new Unanswered("Even 10000 sites in each group would not show so small a difference.");
            int low = 1, high = mostSites;
            while (high - low > 1)
            {
                int middle = (low + high) / 2;
                if (Power(difference, siteVariance, burialVariance, middle, m, level).Power >= power)
                    high = middle;
                else
                    low = middle;
            }

            designs.Add(Power(difference, siteVariance, burialVariance, high, m, level));
        }

        return designs.ToArray();
    }
}
