namespace DecayAtlas.Prediction.Training;

/// <summary>How covariates become the features that a candidate learns from: a number is one column; a class is one column for each of
/// its classes, 1 in its own and 0 in the others.</summary>
/// <remarks>No class is left out as the one that others are compared with, so none is favoured by its order or by its name; the penalty of
/// ridge regression makes the answer one all the same.</remarks>
internal sealed class FeatureCoding
{
    private readonly int[] _first;
    private readonly bool[] _isClass;
    private readonly int[] _covariateOf;

    /// <param name="classes">Of each covariate; missing for a number.</param>
    public FeatureCoding(IReadOnlyList<CovariateClasses?> classes)
    {
        _isClass = [.. classes.Select(c => c is not null)];
        _first = new int[classes.Count + 1];
        for (int c = 0; c < classes.Count; c++)
            _first[c + 1] = _first[c] + (classes[c]?.Names.Count ?? 1);
        _covariateOf = [.. Enumerable.Range(0, classes.Count).SelectMany(c => Enumerable.Repeat(c, _first[c + 1] - _first[c]))];
    }

    public static FeatureCoding Of(IEnumerable<CovariateInfo> covariates) => new([.. covariates.Select(c => c.Classes)]);

    public int Covariates => _isClass.Length;

    public int Count => _first[^1];

    public bool IsClass(int covariate) => _isClass[covariate];

    /// <summary>Whether a column says of one class whether it is there.</summary>
    public bool IsIndicator(int column) => _isClass[_covariateOf[column]];

    /// <summary>Of terms that are the columns and then their squares makes the squares of classes 0: whether a class is there has no square
    /// that says more.</summary>
    public void NoSquares(Span<double> terms)
    {
        for (int column = 0; column < Count; column++)
        {
            if (IsIndicator(column))
                terms[Count + column] = 0;
        }
    }

    public (int First, int Count) ColumnsOf(int covariate) => (_first[covariate], _first[covariate + 1] - _first[covariate]);

    /// <summary>What one could choose freely: the columns of a class sum to 1.</summary>
    public int FreedomOf(int covariate) => ColumnsOf(covariate).Count - (_isClass[covariate] ? 1 : 0);

    /// <summary>Codes the value of one covariate into its columns of a row.</summary>
    /// <returns>Whether the model can do with it: it is no number, or a class that was never seen, where not.</returns>
    public bool Put(int covariate, float value, Span<float> features)
    {
        (int first, int count) = ColumnsOf(covariate);
        if (!_isClass[covariate])
        {
            features[first] = value;
            return float.IsFinite(value);
        }

        Span<float> columns = features.Slice(first, count);
        columns.Clear();
        if (!(value >= 0 && value < count))
        {
            columns.Fill(float.NaN);
            return false;
        }

        columns[(int)value] = 1;
        return true;
    }
}
