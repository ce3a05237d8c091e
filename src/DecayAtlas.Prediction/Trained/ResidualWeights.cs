namespace DecayAtlas.Prediction.Trained;

/// <summary>
/// How much each row counts: the inverse of the variance that a regression leaves it, which is what sites differ by beyond their covariates
/// plus the row's own error.
/// </summary>
/// <remarks>
/// Weighted least squares with the variance of each row (Aitken 1935, from memory). What sites differ by is found by moments: the mean
/// squared residual of curves of second degree, their degrees of freedom taken off, less the mean of the rows' own errors, and at least a
/// tenth of it (common practice, no source), so that no row counts without bound. The variance between sites before any regression, which
/// the covariates explain for the most part, would make all rows nearly equal. What all rows of a lot share moves them together and tells
/// nothing of one row over another.
/// </remarks>
public static class ResidualWeights
{
    private const double Penalty = 1e-3, LeastShare = 0.1;

    /// <summary>The set with its weights; the largest possible is 1.</summary>
    public static TrainingSet On(TrainingSet set)
    {
        if (set.Rows.Count == 0)
            return set;
        IReadOnlyDictionary<string, double> batches = MeanBatchEffects(set.Rows);
        double[] own = [.. set.Rows.Select(r => OwnOf(r, batches))];
        double residual = ResidualVariance(CovariateTable.Of(set));
        double between = Math.Max(residual - own.Average(), LeastShare * residual);
        return set with
        {
            Rows = [.. set.Rows.Select(Weighed)],
            WithoutNoted = set.WithoutNoted is null ? null : [.. set.WithoutNoted.Select(r => r is null ? null : Weighed(r))],
        };

        TrainingRow Weighed(TrainingRow row) => row with { Weight = between > 0 ? between / (between + OwnOf(row, batches)) : 1 };
    }

    /// <summary>What a batch does to a row was computed at the k of its place; a mean over all batches keeps fast rows, which chance made
    /// so, from counting less.</summary>
    private static Dictionary<string, double> MeanBatchEffects(IReadOnlyList<TrainingRow> rows) =>
        rows.SelectMany(r => r.Errors.Shared).Where(s => s.IsOfBatch).GroupBy(KindOf, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Average(s => s.OnTarget * s.OnTarget), StringComparer.Ordinal);

    private static double OwnOf(TrainingRow row, IReadOnlyDictionary<string, double> batches) =>
        row.Errors.OwnVariance + row.Errors.Shared.Where(s => s.IsOfBatch).Sum(s => batches.GetValueOrDefault(KindOf(s)));

    private static string KindOf(SharedError s) => s.Quantity[(s.Quantity.LastIndexOf('/') + 1)..];

    private static double ResidualVariance(CovariateTable table)
    {
        int n = table.Count, width = table.FeatureCount;
        double[] equal = [.. Enumerable.Repeat(1.0, n)];
        (double Mean, double Scale)[] moments =
            [.. Enumerable.Range(0, width).Select(c => RidgeRegression.Moments(r => table.FeaturesOf(r)[c], equal, n))];
        int[] bends = [.. Enumerable.Range(0, width).Where(c => !table.Coding.IsIndicator(c))];
        int straight = Enumerable.Range(0, table.Coding.Covariates).Sum(table.Coding.FreedomOf), bent = straight + bends.Length;
        int terms = n > 4 * bent ? bent : n > 4 * straight ? straight : 0;
        double mean = table.Targets.Average();
        if (terms == 0)
            return n < 2 ? 0 : table.Targets.Sum(y => (y - mean) * (y - mean)) / (n - 1);
        double[][] rows = [.. Enumerable.Range(0, n).Select(TermsOf)];
        RidgeRegression fit = RidgeRegression.Fit(rows, table.Targets, equal, Penalty);
        double squares = 0;
        for (int r = 0; r < n; r++)
        {
            double residual = table.Targets[r] - fit.Intercept - rows[r].Zip(fit.Slopes, (x, b) => x * b).Sum();
            squares += residual * residual;
        }
        return squares / (n - terms - 1);

        double[] TermsOf(int row)
        {
            double[] z = [.. moments.Select((m, c) => (table.FeaturesOf(row)[c] - m.Mean) * m.Scale)];
            return terms == straight ? z : [.. z, .. bends.Select(c => z[c] * z[c])];
        }
    }
}
