namespace DecayAtlas.Prediction.Limits;

/// <summary>
/// Conformal prediction interval: prediction ± <paramref name="Quantile"/> · (<paramref name="Base"/> + <paramref name="Slope"/> · DI), on
/// the scale of the target. DI is the dissimilarity index, so that the interval widens where training rows are unlike.
/// </summary>
/// <remarks>
/// Source: normalised split conformal prediction (Lei et al. 2018, Journal of the American Statistical Association 113:1094-1111,
/// section 5.2) on residuals of held-out spatial blocks: cross-conformal in the plain form of Vovk 2015 (from memory). The
/// quantile is the ceil((n + 1) level)-th smallest of n scaled residuals. Strict coverage needs exchangeable rows, which neighbours are
/// not; so coverage is measured, fold against fold, and told in the card.
/// </remarks>
/// <param name="Level">Share of new site-campaign means that the interval is to hold.</param>
/// <param name="Base">Expected absolute error at DI 0.</param>
/// <param name="Slope">Its rise by one unit of DI, at least 0.</param>
/// <param name="Quantile">Multiple of the expected absolute error; infinite where the rows are too few for the level.</param>
public sealed record PredictionInterval(double Level, double Base, double Slope, double Quantile)
{
    /// <summary>Half the width of the interval at a dissimilarity.</summary>
    public double HalfWidthAt(double dissimilarity) => Quantile * (Base + Slope * dissimilarity);

    /// <summary>Calibrates on held-out residuals.</summary>
    internal static PredictionInterval Of(double level, IReadOnlyList<double> residuals, IReadOnlyList<double> dissimilarity)
    {
        (double intercept, double slope) = ErrorLine(residuals, dissimilarity);
        double[] scaled = [.. residuals.Select((r, i) => Math.Abs(r) / (intercept + slope * dissimilarity[i])).Order()];
        int rank = RankOf(scaled.Length, level);
        return new(level, intercept, slope, rank > scaled.Length ? double.PositiveInfinity : scaled[rank - 1]);
    }

    /// <summary>Which of the scaled residuals, by size from 1, is the quantile; more than there are where they are too few for the
    /// level.</summary>
    internal static int RankOf(int residuals, double level) => (int)Math.Ceiling((residuals + 1) * level);

    /// <summary>Least-squares line of |residual| on DI; never falling, and at DI 0 at least a quarter of the mean (so that no place is
    /// called exact).</summary>
    private static (double Intercept, double Slope) ErrorLine(IReadOnlyList<double> residuals, IReadOnlyList<double> dissimilarity)
    {
        double meanError = residuals.Average(Math.Abs), meanIndex = dissimilarity.Average();
        if (meanError == 0)
            return (double.Epsilon, 0);
        double sxx = dissimilarity.Sum(d => (d - meanIndex) * (d - meanIndex));
        double sxy = residuals.Select((r, i) => (Math.Abs(r) - meanError) * (dissimilarity[i] - meanIndex)).Sum();
        if (!(sxx > 0) || !(meanIndex > 0))
            return (meanError, 0);
        double slope = Math.Clamp(sxy / sxx, 0, 0.75 * meanError / meanIndex);
        return (meanError - slope * meanIndex, slope);
    }
}
