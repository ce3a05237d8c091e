namespace DecayAtlas.Decomposition.Outliers;

/// <summary>Mean and covariance of some rows, with the Cholesky factor that distances need.</summary>
/// <param name="Factor">Lower triangle L of the covariance, row by row.</param>
internal sealed record Scatter(double[] Mean, double[] Covariance, double[] Factor, double LogDeterminant)
{
    /// <summary>The scatter, or <see langword="null"/> where the rows lie on a plane.</summary>
    public static Scatter? Of(double[][] rows)
    {
        int p = rows[0].Length;
        double[] mean = new double[p], covariance = new double[p * p], factor = new double[p * p];
        foreach (double[] r in rows)
        {
            for (int a = 0; a < p; a++)
                mean[a] += r[a] / rows.Length;
        }

        foreach (double[] r in rows)
        {
            for (int a = 0; a < p; a++)
            {
                for (int b = 0; b <= a; b++)
                    covariance[a * p + b] += (r[a] - mean[a]) * (r[b] - mean[b]) / (rows.Length - 1);
            }
        }

        double logDeterminant = 0;
        for (int a = 0; a < p; a++)
        {
            for (int b = 0; b <= a; b++)
            {
                covariance[b * p + a] = covariance[a * p + b];
                double sum = covariance[a * p + b];
                for (int c = 0; c < b; c++)
                    sum -= factor[a * p + c] * factor[b * p + c];
                if (a != b)
                {
                    factor[a * p + b] = sum / factor[b * p + b];
                    continue;
                }

                // what the columns before leave of this one's variance; beyond rounding, none means a plane
                if (!(sum > 1e-12 * covariance[a * p + a]))
                    return null;
                factor[a * p + a] = Math.Sqrt(sum);
                logDeterminant += Math.Log(sum);
            }
        }

        return new Scatter(mean, covariance, factor, logDeterminant);
    }

    public double SquaredDistance(double[] row)
    {
        int p = Mean.Length;
        Span<double> z = stackalloc double[p];
        double sum = 0;
        for (int a = 0; a < p; a++)
        {
            double v = row[a] - Mean[a];
            for (int b = 0; b < a; b++)
                v -= Factor[a * p + b] * z[b];
            z[a] = v / Factor[a * p + a];
            sum += z[a] * z[a];
        }

        return sum;
    }
}
