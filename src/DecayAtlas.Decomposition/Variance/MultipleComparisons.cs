namespace DecayAtlas.Decomposition.Variance;

/// <summary>Probabilities adjusted for the number of comparisons made.</summary>
public static class MultipleComparisons
{
    /// <summary>Adjusted probability of no difference, below which two groups are told apart (common practice, no source).</summary>
    private const double Level = 0.05;

    /// <param name="adjusted">Missing where nothing could be tested.</param>
    public static bool IsTold(double? adjusted) => adjusted < Level;

    /// <summary>Holm's step-down adjustment (Holm 1979, Scandinavian J. Statistics 6:65-70): the family-wise error stays at the level,
    /// whatever the dependence.</summary>
    public static double[] Holm(IReadOnlyList<double> pValues)
    {
        int m = pValues.Count;
        double[] adjusted = new double[m];
        double least = 0;
        int[] order = [.. Enumerable.Range(0, m).OrderBy(i => pValues[i])];
        for (int rank = 0; rank < m; rank++)
        {
            least = Math.Max(least, Math.Min(1, (m - rank) * pValues[order[rank]]));
            adjusted[order[rank]] = least;
        }

        return adjusted;
    }
}
