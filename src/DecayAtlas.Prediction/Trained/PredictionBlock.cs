namespace DecayAtlas.Prediction.Trained;

/// <summary>
/// Room for a block of rows: covariates in, prediction and its limits out. One block serves one thread at a time and can be
/// filled again and again; any number of blocks can use one model at once. Arrays have <see cref="Capacity"/> entries.
/// </summary>
/// <param name="withDensity">Whether <see cref="LocalDensity"/> is wanted, which costs a search a row.</param>
public sealed class PredictionBlock(int covariateCount, int capacity, bool withDensity = false)
{
    public int Capacity { get; } = capacity;

    /// <summary>In: one array a covariate, in the order and units of <see cref="ModelCard.Covariates"/>, of a class its place among the
    /// covariate's (<see cref="CovariateClasses.PlaceOf"/>); not finite = missing.</summary>
    public float[][] Covariates { get; } = [.. Enumerable.Range(0, covariateCount).Select(_ => new float[capacity])];

    /// <summary>Out: the median of what is to be expected there, in <see cref="ModelCard.TargetUnit"/>: k is exp of the predicted ln k. NaN
    /// where a covariate is missing, or so far off all training that no number of single precision holds k.</summary>
    public float[] Predictions { get; } = new float[capacity];

    /// <summary>In: where each row lies, for a model that knows places; not a number where that is not known.</summary>
    public GeoPoint[] Places { get; } = [.. Enumerable.Repeat(new GeoPoint(double.NaN, double.NaN), capacity)];

    /// <summary>In: the kind of place (ecosystem) of each row, for the interval of its kind; missing takes that of
    /// the model's own covariate, and without one that of all.</summary>
    public string?[] Kinds { get; } = new string?[capacity];

    /// <summary>Out: the kind whose own interval it is; missing for that of all.</summary>
    public string?[] IntervalOf { get; } = new string?[capacity];

    /// <summary>Out: ends of the interval of what is true of the place, of the level of the model; NaN as above.</summary>
    public float[] Lower { get; } = new float[capacity];

    public float[] Upper { get; } = new float[capacity];

    /// <summary>Out: ends of the interval of what a site there would be measured as in one campaign, with lots and batches of its own; NaN
    /// as above.</summary>
    public float[] MeasuredLower { get; } = new float[capacity];

    public float[] MeasuredUpper { get; } = new float[capacity];

    /// <summary>Out: dissimilarity index, 0 or more; NaN as above.</summary>
    public float[] Dissimilarity { get; } = new float[capacity];

    /// <summary>Out: whether the row lies in the area of applicability; false where a covariate is missing.</summary>
    public bool[] Applicable { get; } = new bool[capacity];

    /// <summary>Out: training rows within the threshold of dissimilarity; 0 where a covariate is missing. Empty unless asked for.</summary>
    public int[] LocalDensity { get; } = withDensity ? new int[capacity] : [];

    /// <summary>Row-major features of the complete rows, and where they came from.</summary>
    internal float[] Features { get; private set; } = [];

    internal int[] RowOf { get; } = new int[capacity];

    internal GeoPoint[] CompletePlaces { get; } = new GeoPoint[capacity];

    internal double[] Values { get; } = new double[capacity];

    internal MemberVariances[] Spread { get; } = new MemberVariances[capacity];

    /// <summary>Packs the features of the complete rows, makes the others missing, and says how many are complete.</summary>
    internal int GatherComplete(int count, FeatureCoding coding)
    {
        int complete = 0, width = coding.Count;
        if (Features.Length < width * Capacity)
            Features = new float[width * Capacity];
        for (int row = 0; row < count; row++)
        {
            bool missing = false;
            Span<float> features = Features.AsSpan(complete * width, width);
            for (int c = 0; c < Covariates.Length; c++)
                missing |= !coding.Put(c, Covariates[c][row], features);
            if (missing)
                Clear(row);
            else
                (CompletePlaces[complete], RowOf[complete++]) = (Places[row], row);
        }
        return complete;
    }

    internal void Clear(int row)
    {
        Predictions[row] = Lower[row] = Upper[row] = MeasuredLower[row] = MeasuredUpper[row] = Dissimilarity[row] = float.NaN;
        Applicable[row] = false;
        IntervalOf[row] = null;
        if (LocalDensity.Length > 0)
            LocalDensity[row] = 0;
    }
}
