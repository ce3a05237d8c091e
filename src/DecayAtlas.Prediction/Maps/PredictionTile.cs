namespace DecayAtlas.Prediction;

/// <summary>Covariates in, rates out, for up to one tile of cells; its arrays are used again for every tile.</summary>
internal sealed class PredictionTile(RateModel model, int cells)
{
    private const int CellsPerTask = 4096;

    private readonly float[] features = new float[model.Card.Covariates.Count * cells];
    private readonly double[] lnRates = new double[cells];
    private readonly int[] complete = new int[cells];

    /// <summary>One array a covariate, filled by the caller; NaN = missing.</summary>
    public double[][] Covariates { get; } = [.. model.Card.Covariates.Select(_ => new double[cells])];

    /// <summary>k in d⁻¹; NaN where a covariate is missing.</summary>
    public float[] RatesPerDay { get; } = new float[cells];

    /// <summary>Whether every covariate lies in its training range.</summary>
    public bool[] Within { get; } = new bool[cells];

    /// <summary>Predicts the first <paramref name="count"/> cells. Cells do not depend on each other, so threads change nothing.</summary>
    public void Predict(int count) => Parallel.For(0, (count + CellsPerTask - 1) / CellsPerTask, task =>
    {
        int from = task * CellsPerTask, width = Covariates.Length;
        // Only cells with all covariates go through the model: most of a coast is sea.
        int rows = Gather(from, Math.Min(from + CellsPerTask, count));
        model.Predictor.Predict(features.AsSpan(from * width, rows * width), lnRates.AsSpan(from, rows));
        for (int row = from; row < from + rows; row++)
            RatesPerDay[complete[row]] = (float)Math.Exp(lnRates[row]);
    });

    /// <summary>Packs the features of complete cells from row <paramref name="from"/> on and says how many there are.</summary>
    private int Gather(int from, int to)
    {
        int row = from, width = Covariates.Length;
        for (int cell = from; cell < to; cell++)
        {
            bool within = true, missing = false;
            for (int c = 0; c < width; c++)
            {
                double value = Covariates[c][cell];
                features[row * width + c] = (float)value;
                missing |= double.IsNaN(value);
                within &= model.Card.Covariates[c].Covers(value);
            }
            Within[cell] = within;
            RatesPerDay[cell] = float.NaN;
            if (!missing)
                complete[row++] = cell;
        }
        return row - from;
    }
}
