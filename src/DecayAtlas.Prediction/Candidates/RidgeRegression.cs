using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Prediction.Candidates;

/// <summary>
/// Weighted ridge regression in closed form: slopes b and intercept that make Σ w (y − a − Σ b x)² / Σ w + penalty · Σ (b s)² least, s the
/// weighted standard deviation of a term. Source: Hoerl and Kennard 1970, Technometrics 12:55-67; solved by Cholesky.
/// </summary>
/// <remarks>With a penalty above 0 the matrix is positive definite whatever the terms, equal or constant ones too: there is always one
/// answer, and it does not depend on steps, as that of a trainer that descends does.</remarks>
internal sealed record RidgeRegression(double[] Slopes, double Intercept)
{
    /// <param name="terms">One array a row, not standardised.</param>
    /// <param name="weights">Each above 0.</param>
    /// <param name="penalty">Above 0.</param>
    public static RidgeRegression Fit(double[][] terms, double[] targets, double[] weights, double penalty)
    {
        int n = terms.Length, width = terms[0].Length;
        double total = weights.Sum();
        double[] means = new double[width], scales = new double[width];
        for (int t = 0; t < width; t++)
            (means[t], scales[t]) = Moments(r => terms[r][t], weights, total);

        Matrix<double> normal = Matrix<double>.Build.Dense(width, width);
        Vector<double> right = Vector<double>.Build.Dense(width);
        double mean = Enumerable.Range(0, n).Sum(r => weights[r] * targets[r]) / total;
        for (int r = 0; r < n; r++)
        {
            double share = weights[r] / total;
            for (int a = 0; a < width; a++)
            {
                double x = (terms[r][a] - means[a]) * scales[a];
                right[a] += share * x * (targets[r] - mean);
                for (int b = 0; b <= a; b++)
                    normal[a, b] += share * x * (terms[r][b] - means[b]) * scales[b];
            }
        }
        for (int a = 0; a < width; a++)
        {
            normal[a, a] += penalty;
            for (int b = 0; b < a; b++)
                normal[b, a] = normal[a, b];
        }
        double[] slopes = [.. normal.Cholesky().Solve(right).Zip(scales, (b, s) => b * s)];
        return new(slopes, mean - slopes.Zip(means, (b, m) => b * m).Sum());
    }

    /// <summary>Weighted mean and 1/standard deviation; the latter 0 for a term that does not vary.</summary>
    public static (double Mean, double Scale) Moments(Func<int, double> value, double[] weights, double total)
    {
        double mean = 0, squares = 0;
        for (int r = 0; r < weights.Length; r++)
            mean += weights[r] / total * value(r);
        for (int r = 0; r < weights.Length; r++)
            squares += weights[r] / total * (value(r) - mean) * (value(r) - mean);
        return (mean, squares > 1e-24 ? 1 / Math.Sqrt(squares) : 0);
    }
}
