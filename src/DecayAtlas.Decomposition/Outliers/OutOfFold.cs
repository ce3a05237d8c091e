using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Decomposition.Outliers;

/// <summary>One row of a regression that is judged by a fit that has not seen its fold.</summary>
/// <param name="Value">What was observed, for example the mean ln k of a site.</param>
/// <param name="Variance">Of that mean, from its own replicates.</param>
/// <param name="Fold">Rows of one fold are left out together, for example neighbouring spatial blocks.</param>
/// <param name="IsLearnt">Whether others may be judged by it; if not, it is only judged.</param>
public sealed record FoldedRow(double Value, double Variance, int Fold, double[] X, bool IsLearnt = true);

/// <summary>What a fit that had not seen the row expects of it.</summary>
/// <param name="Sd">Of observed less expected: sites that differ beyond their covariates, the own replicates, the fit.</param>
/// <param name="Score">(observed - expected)/sd.</param>
public readonly record struct OutOfFoldValue(double Expected, double Sd, double Score);

/// <summary>Every row held against the folds it is not in.</summary>
/// <param name="BetweenSd">Robust standard deviation between rows beyond their covariates and their replicates.</param>
/// <param name="Terms">Terms of each fit, the constant counted.</param>
public sealed record OutOfFoldValues(IReadOnlyList<OutOfFoldValue> Values, double BetweenSd, int Terms);

/// <summary>
/// Surprise: how far each row lies from what a robust regression on covariates, fitted without its fold, expects.
/// </summary>
/// <remarks>
/// <code>
/// y = b0 + Σ (b_j z_j + c_j z_j²),  z standardised on the rows that are learnt     squares only where there are ten rows a term
/// Huber's weights, 1.345 (Huber 1964, Annals of Mathematical Statistics 35:73-101), scale 1.4826 MAD, a ridge of 10⁻³ rows against
/// covariates that repeat one another
/// τ²  = max(0, s² - median of the rows' own variances),  s the 1.4826 MAD of the residuals out of fold
/// sd² = τ² + own variance + s² x'(X'WX)⁻¹x
/// </code>
/// Folds of whole spatial blocks, since neighbours would else answer for one another (Roberts et al. 2017, Ecography 40:913-929, from
/// memory).
/// s holds an ordinary error of the fit already, so that rows far from the others are told a little too seldom.
/// </remarks>
public static class OutOfFold
{
    private const double Tuning = 1.345, Ridge = 1e-3;
    private const int RowsPerTerm = 10, FewestRowsPerTerm = 5, FewestFolds = 3;

    public static Answer<OutOfFoldValues> Of(IReadOnlyList<FoldedRow> rows)
    {
        if (rows.Any(r => !double.IsFinite(r.Value) || !double.IsFinite(r.Variance) || r.X.Any(x => !double.IsFinite(x))))
            return Unanswered.NotFinite("rows");
        FoldedRow[] learnt = [.. rows.Where(r => r.IsLearnt)];
        int p = rows.Count == 0 ? 0 : rows[0].X.Length, folds = learnt.Select(r => r.Fold).Distinct().Count();
        if (p == 0)
            return Unanswered.TooFew("covariates", 0, 1);
        if (folds < FewestFolds)
            return Unanswered.TooFew("folds with rows", folds, FewestFolds);
        int fewest = learnt.Length - learnt.GroupBy(r => r.Fold).Max(g => g.Count());
        bool hasSquares = fewest >= RowsPerTerm * (1 + 2 * p);
        if (!hasSquares && fewest < FewestRowsPerTerm * (1 + p))
            return Unanswered.TooFew("rows outside the largest fold", fewest, FewestRowsPerTerm * (1 + p));

        (double Mean, double Sd)[] scale = [.. Enumerable.Range(0, p).Select(j =>
        {
            double mean = learnt.Average(r => r.X[j]);
            double sd = Math.Sqrt(learnt.Average(r => (r.X[j] - mean) * (r.X[j] - mean)));
            return (mean, sd > 0 ? sd : 1);
        })];
        double[][] terms = [.. rows.Select(r => Terms(r.X, scale, hasSquares))];

        double[] expected = new double[rows.Count], leverage = new double[rows.Count];
        foreach (int fold in rows.Select(r => r.Fold).Distinct().Order())
        {
            int[] inside = [.. Enumerable.Range(0, rows.Count).Where(i => rows[i].IsLearnt && rows[i].Fold != fold)];
            (Vector<double> b, Matrix<double> inverse) = Fit([.. inside.Select(i => terms[i])], [.. inside.Select(i => rows[i].Value)]);
            for (int i = 0; i < rows.Count; i++)
            {
                if (rows[i].Fold != fold)
                    continue;
                Vector<double> x = Vector<double>.Build.Dense(terms[i]);
                expected[i] = x * b;
                leverage[i] = x * inverse * x;
            }
        }

        double s = ModifiedZScore.NormalMad * ModifiedZScore.Median([.. Enumerable.Range(0, rows.Count).Where(i => rows[i].IsLearnt)
            .Select(i => Math.Abs(rows[i].Value - expected[i]))]);
        if (!(s > 0))
            return Unanswered.NoScatter("residuals");
        double between = Math.Max(0, s * s - ModifiedZScore.Median([.. learnt.Select(r => r.Variance)]));
        return new OutOfFoldValues([.. rows.Select((r, i) =>
        {
            double sd = Math.Sqrt(between + r.Variance + s * s * leverage[i]);
            return new OutOfFoldValue(expected[i], sd, (r.Value - expected[i]) / sd);
        })], Math.Sqrt(between), terms[0].Length);
    }

    private static double[] Terms(double[] x, (double Mean, double Sd)[] scale, bool hasSquares)
    {
        double[] z = [.. x.Select((v, j) => (v - scale[j].Mean) / scale[j].Sd)];
        return hasSquares ? [1, .. z, .. z.Select(v => v * v)] : [1, .. z];
    }

    // iteratively reweighted least squares; the ridge leaves the constant alone
    private static (Vector<double> B, Matrix<double> Inverse) Fit(double[][] x, double[] y)
    {
        int n = y.Length, p = x[0].Length;
        double[] w = [.. Enumerable.Repeat(1.0, n)];
        Vector<double> b = Vector<double>.Build.Dense(p);
        Matrix<double> inverse = Matrix<double>.Build.Dense(p, p);
        for (int round = 0; round < 30; round++)
        {
            double[,] xx = new double[p, p];
            double[] xy = new double[p];
            for (int i = 0; i < n; i++)
            {
                double[] row = x[i];
                for (int j = 0; j < p; j++)
                {
                    double wx = w[i] * row[j];
                    xy[j] += wx * y[i];
                    for (int k = 0; k <= j; k++)
                        xx[j, k] += wx * row[k];
                }
            }

            for (int j = 0; j < p; j++)
            {
                for (int k = 0; k < j; k++)
                    xx[k, j] = xx[j, k];
                if (j > 0)
                    xx[j, j] += Ridge * n;
            }

            inverse = Matrix<double>.Build.DenseOfArray(xx).Cholesky().Solve(Matrix<double>.Build.DenseIdentity(p));
            Vector<double> next = inverse * Vector<double>.Build.Dense(xy);
            double change = (next - b).InfinityNorm();
            b = next;
            double[] residuals = [.. x.Select((row, i) => y[i] - Dot(row, b))];
            double s = ModifiedZScore.NormalMad * ModifiedZScore.Median([.. residuals.Select(Math.Abs)]);
            if (!(s > 0) || change < 1e-10)
                break;
            for (int i = 0; i < n; i++)
                w[i] = Math.Min(1, Tuning * s / Math.Abs(residuals[i]));
        }

        return (b, inverse);
    }

    private static double Dot(double[] x, Vector<double> b)
    {
        double sum = 0;
        for (int j = 0; j < x.Length; j++)
            sum += x[j] * b[j];
        return sum;
    }
}
