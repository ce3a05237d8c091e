namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>A symmetric 2 × 2 matrix over the two outcomes: (co)variances in the units of the outcomes. With one outcome only
/// <see cref="First"/> counts.</summary>
public readonly record struct OutcomeCovariance(double First, double Cross = 0, double Second = 0);

/// <summary>The signed effect of one shared quantity's standard uncertainty on a record's outcomes, in their units.</summary>
/// <param name="Quantity">Records that name the same quantity share its error.</param>
public readonly record struct SharedLoading(string Quantity, double OnFirst, double OnSecond = 0);

/// <summary>One burial, or the mean of several that share their units, fixed effects and shared quantities.</summary>
/// <param name="First">For example ln k; missing where it has none.</param>
/// <param name="Second">For example S; missing where it has none, and everywhere in a model of one outcome.</param>
/// <param name="Units">One name for each random factor; missing where the record stands in no unit of it, and no effect of that factor
/// moves it. A name stands for one unit wherever it occurs: plots named alike at two sites are to be named with their site.</param>
/// <param name="FixedEffects">Row of X, the same for both outcomes; each has coefficients of its own.</param>
public sealed record MixedRecord(double? First, double? Second, IReadOnlyList<string?> Units, IReadOnlyList<double> FixedEffects)
{
    /// <summary>Known error covariance of one burial.</summary>
    public OutcomeCovariance Error { get; init; }

    /// <summary>Known error covariance that the mean has besides: one error that all its burials share, and no other record.</summary>
    public OutcomeCovariance MeanError { get; init; }

    /// <summary>As the fit takes them.</summary>
    public IReadOnlyList<SharedLoading> Shared { get; init; } = [];

    /// <summary>What the same quantities do to this record by itself, where the fit takes what they do on average: intervals hold the
    /// errors as they are here. Empty where both are the same.</summary>
    public IReadOnlyList<SharedLoading> SharedHere { get; init; } = [];

    /// <summary>Whether the first outcome is known only to be at least <see cref="First"/>, as k of a burial whose slow litter is at its
    /// plateau; of one burial, not of a mean.</summary>
    public bool FirstIsAtLeast { get; init; }

    /// <summary>How many burials the values are a mean of.</summary>
    public int Count { get; init; } = 1;

    /// <summary>Sums of squares and products of those burials about their mean; each has the error of <see cref="Error"/>.</summary>
    public OutcomeCovariance SumsOfSquares { get; init; }
}
