namespace DecayAtlas.Decomposition.Plans;

/// <summary>What holes in two places can tell of them: a two-sided t test of ln k, the holes its replicates. Before they are dug it says
/// which ratio of k is seen with a power of 80 %, and afterwards two places are told apart from that ratio on: one rule, so that a class
/// does not read that chance makes such a difference and then that one place is the quicker.</summary>
public static class HolesOfTwoPlaces
{
    /// <summary>Standard deviation of ln k between holes of a place where nobody stated any; common practice, no source.</summary>
    public const double UsualScatter = 0.3;

    public const double Power = 0.8;

    private const double Level = 0.05;

    /// <param name="holesEach">Holes in each place.</param>
    /// <param name="scatter">Standard deviation of ln k between holes of a place.</param>
    /// <param name="pairs">Pairs of places of which the one that differs most is looked at (Bonferroni).</param>
    public static PlannedPower PowerOf(int holesEach, double scatter, int pairs = 1) => new(
        // a hole is what a plan calls a site of its group: drawn by itself, with nothing below it
        new PlannedDesign(PlannedComparison.Between, Math.Max(holesEach, 1), 1, 1, 1),
        new PlanVariances("holes of two places") { Burial = new VariancePart(scatter * scatter) }, Level / pairs);

    /// <summary>Whether places differ by more than chance between holes and the weighings make.</summary>
    /// <param name="leastScatter">What is known of holes of a place before they are dug: a few that agree by chance show less.</param>
    /// <param name="pairs">As in <see cref="PowerOf"/>.</param>
    public static bool AreApart(IReadOnlyList<HoleRate> one, IReadOnlyList<HoleRate> other, double leastScatter, int pairs = 1)
    {
        int fewest = Math.Min(one.Count, other.Count);
        // of one hole nobody sees how much chance does
        if (fewest < 2 || SampleSummary.Of([.. one.Select(h => h.LnRate)]) is not { Sd: { } s } first
            || SampleSummary.Of([.. other.Select(h => h.LnRate)]) is not { Sd: { } t } second)
        {
            return false;
        }
        double observed = ((first.Count - 1) * s * s + (second.Count - 1) * t * t) / (first.Count + second.Count - 2),
            weighed = one.Concat(other).Average(h => h.Uncertainty * h.Uncertainty),
            scatter = Math.Sqrt(Math.Max(observed, leastScatter * leastScatter + weighed));
        return PowerOf(fewest, scatter, pairs).Of(first.Mean - second.Mean, fewest) >= Power;
    }
}

/// <summary>What one hole tells.</summary>
/// <param name="LnRate">ln k.</param>
/// <param name="Uncertainty">Standard uncertainty of it from the hole's own weighings: balance, tare, water.</param>
public readonly record struct HoleRate(double LnRate, double Uncertainty);
