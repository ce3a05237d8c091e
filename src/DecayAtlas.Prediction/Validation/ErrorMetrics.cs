namespace DecayAtlas.Prediction;

/// <summary>
/// How far predictions p lie from observations y, both ln k (k in d⁻¹), over n held-out rows. Every row counts once: weights
/// steer training, but a user meets every place equally.
/// </summary>
/// <param name="Rows">n.</param>
/// <param name="Rmse">Root mean squared error, sqrt( Σ(p − y)² / n ), in units of ln k: exp(RMSE) is the typical factor by which k is off.</param>
/// <param name="Mae">Mean absolute error, Σ|p − y| / n.</param>
/// <param name="R2">1 − SSE/SST with SSE = Σ(p − y)² and SST = Σ(y − ȳ)², ȳ the mean of the held-out observations themselves.
/// That mean is the one a reader can compute from a table of observed and predicted values; it is also one no model knew
/// beforehand, so predicting the training mean scores slightly below 0. Not a number when all y are equal.</param>
/// <param name="Bias">Mean error, Σ(p − y) / n; above 0 the model predicts too fast a decay.</param>
public sealed record ErrorMetrics(int Rows, double Rmse, double Mae, double R2, double Bias)
{
    /// <summary>Computes all metrics; the spans have equal length, at least 1.</summary>
    public static ErrorMetrics Of(ReadOnlySpan<double> observed, ReadOnlySpan<double> predicted)
    {
        if (observed.Length != predicted.Length || observed.IsEmpty)
            throw new ArgumentException("Observed and predicted values must be as many, and at least one.", nameof(predicted));
        int n = observed.Length;
        double mean = 0;
        foreach (double y in observed)
            mean += y / n;
        double squared = 0, absolute = 0, signed = 0, total = 0;
        for (int i = 0; i < n; i++)
        {
            double error = predicted[i] - observed[i];
            squared += error * error;
            absolute += Math.Abs(error);
            signed += error;
            total += (observed[i] - mean) * (observed[i] - mean);
        }
        return new(n, Math.Sqrt(squared / n), absolute / n, total > 0 ? 1 - squared / total : double.NaN, signed / n);
    }
}
