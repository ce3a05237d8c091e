namespace DecayAtlas.Prediction.Tests;

/// <summary>Predictions of rows that stand one after the other, for tests that hold models against each other.</summary>
internal static class PredictedRates
{
    /// <param name="covariates">Row-major; NaN = missing.</param>
    /// <param name="lnRates">Receives ln k of each row, NaN where a covariate is missing.</param>
    public static void PredictLnRate(this RateModel model, ReadOnlySpan<double> covariates, Span<double> lnRates)
    {
        int width = model.Card.Covariates.Count;
        Span<float> row = stackalloc float[width];
        for (int r = 0; r < lnRates.Length; r++)
        {
            for (int c = 0; c < width; c++)
                row[c] = (float)covariates[(r * width) + c];
            model.Predictor.Predict(row, lnRates.Slice(r, 1));
        }
    }
}
