namespace DecayAtlas.Prediction.Understanding;

/// <summary>How the prediction moves with one covariate, the others being what they are where that value occurs.</summary>
/// <param name="Values">Quantiles of the training rows, so that where they lie close there is data.</param>
/// <param name="Effects">Accumulated local effect at each, in units of the target; its mean over the training rows is 0.</param>
public sealed record CovariateEffect(string Covariate, IReadOnlyList<double> Values, IReadOnlyList<double> Effects)
{
    /// <summary>Names of the classes whose effects these are, their values being their places; missing for a number.</summary>
    public IReadOnlyList<string>? Classes { get; init; }
}

/// <summary>
/// Accumulated local effects of first order. Source: Apley and Zhu 2020, Journal of the Royal Statistical Society B 82:1059-1086,
/// equations 15 and 16: in each interval between quantiles, the mean over its rows of the change of prediction from the lower
/// to the upper end; summed up, then centred. What a model adds for the place stands at both ends, and so is left out. Rows are
/// moved only within their interval, so that no impossible combination is predicted.
/// </summary>
internal static class AccumulatedLocalEffects
{
    private const int MostIntervals = 20;

    public static CovariateEffect Of(string name, int covariate, CovariateTable table, RatePredictor model)
    {
        int column = table.Coding.ColumnsOf(covariate).First;
        float[] sorted = [.. Enumerable.Range(0, table.Count).Select(r => table.FeaturesOf(r)[column]).Order()];
        float[] ends = [.. Enumerable.Range(0, MostIntervals + 1)
            .Select(k => sorted[(int)Math.Round(k / (double)MostIntervals * (sorted.Length - 1))]).Distinct()];
        double[] sums = new double[ends.Length], effects = new double[ends.Length];
        int[] counts = new int[ends.Length];
        float[] row = new float[table.FeatureCount];
        for (int r = 0; r < table.Count; r++)
        {
            table.FeaturesOf(r).CopyTo(row);
            int at = Array.BinarySearch(ends, row[column]);
            // The interval (lower, upper]; the smallest value belongs to the first.
            int upper = Math.Max(1, at >= 0 ? at : ~at);
            row[column] = ends[upper];
            double high = model.Predict(row);
            row[column] = ends[upper - 1];
            sums[upper] += high - model.Predict(row);
            counts[upper]++;
        }
        double centre = 0;
        for (int k = 1; k < ends.Length; k++)
        {
            effects[k] = effects[k - 1] + (counts[k] > 0 ? sums[k] / counts[k] : 0);
            centre += counts[k] * (effects[k] + effects[k - 1]) / 2 / table.Count;
        }
        return new(name, [.. ends.Select(e => (double)e)], [.. effects.Select(e => e - centre)]);
    }
}
