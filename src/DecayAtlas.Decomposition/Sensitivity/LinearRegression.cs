namespace DecayAtlas.Decomposition.Sensitivity;

/// <summary>Weighted linear least squares, the first column constant, with the covariance of its coefficients (Draper and Smith 1998,
/// Applied Regression Analysis, chapter 5).</summary>
internal sealed record LinearRegression(double[] Coefficients, double[,] Covariance, double ResidualSumOfSquares, int DegreesOfFreedom)
{
    public static Answer<LinearRegression> Fit(IReadOnlyList<double[]> rows, IReadOnlyList<double> y, IReadOnlyList<double> weights)
    {
        int n = rows.Count, p = rows[0].Length;
        if (n < p + 1)
            return Unanswered.TooFew("values", n, p + 1);
        double[] a = new double[n * p], right = new double[n], norms = new double[p];
        for (int i = 0; i < n; i++)
        {
            double root = Math.Sqrt(weights[i]);
            right[i] = root * y[i];
            for (int j = 0; j < p; j++)
            {
                a[j * n + i] = root * rows[i][j];
                norms[j] += a[j * n + i] * a[j * n + i];
            }
        }

        HouseholderSolver.Reduce(a, n, p, right);
        for (int j = 1; j < p; j++)
        {
            // what varies about the mean, and how much of it the columns before leave: beyond an inflation of 10⁴ it is one column twice
            double aboutMean = Math.Sqrt(Math.Max(0, norms[j] - a[j * n] * a[j * n]));
            if (!(aboutMean > 1e-9 * Math.Sqrt(norms[j])) || !(Math.Abs(a[j * n + j]) > 1e-2 * aboutMean))
                return new Unanswered("A covariate follows from the others, so that their slopes can't be told apart.");
        }

        double rss = 0;
        for (int i = p; i < n; i++)
            rss += right[i] * right[i];
        double[] inverse = new double[p * p];
        for (int c = 0; c < p; c++)
        {
            inverse[c * p + c] = 1;
            HouseholderSolver.Substitute(a, n, p, inverse.AsSpan(c * p, p));
        }

        double[,] covariance = new double[p, p];
        for (int r = 0; r < p; r++)
        {
            for (int c = 0; c < p; c++)
            {
                for (int m = 0; m < p; m++)
                    covariance[r, c] += inverse[m * p + r] * inverse[m * p + c] * rss / (n - p);
            }
        }

        HouseholderSolver.Substitute(a, n, p, right);
        return new LinearRegression(right[..p], covariance, rss, n - p);
    }
}
