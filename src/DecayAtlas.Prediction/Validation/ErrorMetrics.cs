namespace DecayAtlas.Prediction.Validation;

/// <summary>
/// How far predictions p lie from observations y, both on the scale of the target (ln k with k in d⁻¹, or S), over n held-out rows. Every
/// row counts once: weights steer training, but a user meets every place equally.
/// </summary>
/// <param name="Rows">n.</param>
/// <param name="Rmse">Root mean squared error, sqrt( Σ(p − y)² / n ), in units of the target: for ln k, exp(RMSE) is the typical factor by
/// which k is off.</param>
/// <param name="Mae">Mean absolute error, Σ|p − y| / n.</param>
/// <param name="R2">1 − SSE/SST with SSE = Σ(p − y)² and SST = Σ(y − ȳ)², ȳ the mean of the held-out observations themselves, which a
/// reader can compute from a table of observed and predicted values; no model knew it beforehand, so predicting the training mean scores
/// slightly below 0. Not a number when all y are equal.</param>
/// <param name="Bias">Mean error, Σ(p − y) / n; above 0 the model predicts too fast a decay.</param>
/// <param name="Concordance">Lin's concordance correlation, 2 s(y,p) / (s²(y) + s²(p) + (ȳ − p̄)²) with moments over n (Lin 1989,
/// Biometrics 45:255-268): 1 only where every point lies on the line p = y. Not a number when both are constant.</param>
public sealed record ErrorMetrics(int Rows, double Rmse, double Mae, double R2, double Bias, double Concordance)
{
    /// <summary>Computes all metrics; the spans have equal length, at least 1.</summary>
    public static ErrorMetrics Of(ReadOnlySpan<double> observed, ReadOnlySpan<double> predicted)
    {
        if (observed.Length != predicted.Length || observed.IsEmpty)
            throw new ArgumentException("Observed and predicted values must be as many, and at least one.", nameof(predicted));
        int n = observed.Length;
        double mean = 0, meanPredicted = 0, spread = 0, together = 0, squared = 0, absolute = 0, signed = 0, total = 0;
        foreach (double y in observed)
            mean += y / n;
        foreach (double p in predicted)
            meanPredicted += p / n;
        for (int i = 0; i < n; i++)
        {
            double error = predicted[i] - observed[i];
            squared += error * error;
            absolute += Math.Abs(error);
            signed += error;
            total += (observed[i] - mean) * (observed[i] - mean);
            spread += (predicted[i] - meanPredicted) * (predicted[i] - meanPredicted);
            together += (observed[i] - mean) * (predicted[i] - meanPredicted);
        }
        return new(n, Math.Sqrt(squared / n), absolute / n, total > 0 ? 1 - squared / total : double.NaN, signed / n,
            2 * together / (total + spread + n * (mean - meanPredicted) * (mean - meanPredicted)));
    }
}
