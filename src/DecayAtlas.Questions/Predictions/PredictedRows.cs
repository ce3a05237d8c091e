namespace DecayAtlas.Questions.Predictions;

/// <summary>Rows on their way through a model: covariates in, predictions out, and in words what became of each. One thread at a
/// time.</summary>
internal sealed class PredictedRows(RateModel model, int capacity)
{
    /// <summary>In: one array a covariate, in the order of the model's card; NaN = missing.</summary>
    public double[][] Values { get; } = [.. model.Card.Covariates.Select(_ => new double[capacity])];

    public PredictionBlock Block { get; } = new(model.Card.Covariates.Count, capacity);

    /// <summary>Predicts the first rows.</summary>
    /// <param name="isSound">Whether a row's covariates may be believed; others get no prediction.</param>
    /// <param name="placeOf">Where a row lies; missing where rows bring their covariates, and the model then knows no more.</param>
    /// <param name="kindOf">The kind of place (ecosystem) of a row, where it is known.</param>
    public void Predict(int count, Func<int, bool> isSound, Func<int, GeoPoint>? placeOf, Func<int, string?>? kindOf = null)
    {
        for (int i = 0; i < count; i++)
        {
            bool sound = isSound(i);
            Block.Places[i] = placeOf?.Invoke(i) ?? new GeoPoint(double.NaN, double.NaN);
            Block.Kinds[i] = kindOf?.Invoke(i);
            for (int c = 0; c < Values.Length; c++)
                Block.Covariates[c][i] = sound ? (float)Values[c][i] : float.NaN;
        }

        model.Predict(Block, count);
    }

    public bool IsPredicted(int row) => !float.IsNaN(Block.Predictions[row]);

    /// <summary>"predicted", or why a sound row was not.</summary>
    public string StatusOf(int row)
    {
        if (IsPredicted(row))
            return "predicted";
        string[] missing = [.. Those((_, value) => !float.IsFinite(value))];
        string[] unseen = [.. Those((c, value) => c.Classes is not null && value < 0)];
        return missing.Length > 0 ? "missing: " + string.Join(' ', missing)
            : unseen.Length > 0 ? "class never seen in training: " + string.Join(' ', unseen)
            : "covariates too far off all training sites";

        IEnumerable<string> Those(Func<CardCovariate, float, bool> are) =>
            model.Card.Covariates.Where((covariate, c) => are(covariate, Block.Covariates[c][row])).Select(c => c.Name);
    }
}
