using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>What a planned comparison of two groups would see.</summary>
/// <param name="SitesPerGroup">Sites in each group, g.</param>
/// <param name="BurialsPerSite">Burials in each site, m.</param>
/// <param name="StandardError">Standard error of the difference.</param>
/// <param name="Power">Chance that the difference shows at the stated level.</param>
public sealed record PlannedComparison(int SitesPerGroup, int BurialsPerSite, double StandardError, double Power);

/// <summary>
/// How many sites and burials are needed to see a stated difference between two groups of sites:
/// <code>
/// se² = 2 (σ_site²/g + σ²/(g m)),   df = 2 (g - 1)
/// power = P(|T| &gt; t(1 - α/2, df)),   T noncentral t with δ = difference/se
/// </code>
/// </summary>
/// <remarks>
/// Source: balanced nested design, Snedecor and Cochran 1980, Statistical Methods, 13.10 (from memory); power of the t test, Cohen 1988,
/// chapter 2.
/// Burials can't stand in for sites: as m grows, se² tends to 2 σ_site²/g.
/// </remarks>
public static class Planning
{
    /// <summary>Power of one design.</summary>
    /// <param name="difference">The difference to be seen, for example in ln k.</param>
    /// <param name="siteVariance">Variance between sites of a group, σ_site².</param>
    /// <param name="burialVariance">Variance between burials of a site, σ².</param>
    /// <param name="sitesPerGroup">g, at least 2.</param>
    /// <param name="burialsPerSite">m, at least 1.</param>
    /// <param name="level">Level α of the two-sided test.</param>
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
    public static Answer<IReadOnlyList<PlannedComparison>> Needed(
        double difference, double siteVariance, double burialVariance, int mostBurials, double power = 0.8, double level = 0.05)
    {
        const int mostSites = 10_000;
        List<PlannedComparison> designs = new();
        for (int m = 1; m <= mostBurials; m++)
        {
            if (!(Power(difference, siteVariance, burialVariance, mostSites, m, level).Power >= power))
            {
                return new Unanswered(UnansweredReason.ValueOutOfDomain,
                    "Even 10000 sites in each group would not show so small a difference.");
            }

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

        return Answer<IReadOnlyList<PlannedComparison>>.Of(designs);
    }
}
