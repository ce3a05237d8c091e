using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Plans;

/// <summary>What holes in two places can tell of them: a two-sided t test of ln k, the holes its replicates. Before they are dug it says
/// which ratio of k is seen with a power of 80 %; afterwards their own scatter counts, beside what is known of such holes.</summary>
public static class HolesOfTwoPlaces
{
    /// <summary>Standard deviation of ln k between holes of a place where nobody stated any; common practice, no source.</summary>
    public const double UsualScatter = 0.3;

    public const double Power = 0.8;

    private const double Level = 0.05;

    /// <summary>As how many degrees of freedom what is known of the scatter counts; common practice, no source.</summary>
    private const double KnownDegrees = 4;

    /// <param name="holesEach">Holes in each place.</param>
    /// <param name="scatter">Standard deviation of ln k between holes of a place.</param>
    /// <param name="pairs">Pairs of places of which the one that differs most is looked at (Bonferroni).</param>
    public static PlannedPower PowerOf(int holesEach, double scatter, int pairs = 1) => new(
        // a hole is what a plan calls a site of its group: drawn by itself, with nothing below it
        new PlannedDesign(PlannedComparison.Between, Math.Max(holesEach, 1), 1, 1, 1),
        new PlanVariances("holes of two places") { Burial = new VariancePart(scatter * scatter) }, Level / pairs);

    /// <summary>Whether places differ by more than chance between holes and the weighings make: the moderated t of Smyth 2004 (Stat.
    /// Appl. Genet. Mol. Biol. 3:3, section 4), in which what is known of holes counts as degrees of freedom, since a few that agree by
    /// chance show less scatter than there is.</summary>
    /// <param name="knownScatter">Standard deviation of ln k between holes of a place that is known before they are dug.</param>
    /// <param name="pairs">As in <see cref="PowerOf"/>.</param>
    public static bool AreApart(IReadOnlyList<HoleRate> one, IReadOnlyList<HoleRate> other, double knownScatter, int pairs = 1)
    {
        // of one hole nobody sees how much chance does
        if (one.Count < 2 || other.Count < 2 || SampleSummary.Of([.. one.Select(h => h.LnRate)]) is not { Sd: { } s } first
            || SampleSummary.Of([.. other.Select(h => h.LnRate)]) is not { Sd: { } t } second)
        {
            return false;
        }
        double own = first.Count + second.Count - 2, squares = (first.Count - 1) * s * s + (second.Count - 1) * t * t,
            known = knownScatter * knownScatter + one.Concat(other).Average(h => h.Uncertainty * h.Uncertainty),
            variance = (KnownDegrees * known + squares) / (KnownDegrees + own),
            error = Math.Sqrt(variance * (1.0 / first.Count + 1.0 / second.Count));
        return 2 * StudentT.CDF(0, 1, KnownDegrees + own, -Math.Abs(first.Mean - second.Mean) / error) < Level / pairs;
    }
}

/// <summary>What one hole tells.</summary>
/// <param name="LnRate">ln k.</param>
/// <param name="Uncertainty">Standard uncertainty of it from the hole's own weighings: balance, tare, water.</param>
public readonly record struct HoleRate(double LnRate, double Uncertainty);
