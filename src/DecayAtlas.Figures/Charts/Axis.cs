namespace DecayAtlas.Figures.Charts;

/// <summary>One axis: what it shows with its unit, for example "k (per day)"; in a page a letter between asterisks is slanted.</summary>
public sealed record Axis(string Label)
{
    /// <summary>Logarithmic scale; values of 0 and below are left out.</summary>
    public bool IsLogarithmic { get; init; }

    /// <summary>Where the axis begins; by default a little before the data.</summary>
    public double? From { get; init; }

    public double? To { get; init; }

    /// <summary>How a mark is written where that is another way than as a number, for example 38° S.</summary>
    public Func<double, string>? Mark { get; init; }

    internal bool IsFixed => From is not null && To is not null;

    internal double Place(double value) => IsLogarithmic ? Math.Log10(value) : value;

    internal bool CanShow(double value) => double.IsFinite(value) && (!IsLogarithmic || value > 0);

    /// <summary>The range of the axis in places, a little wider than the data.</summary>
    internal (double From, double To) Range(IEnumerable<double> values)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (double place in values.Where(CanShow).Select(Place))
            (low, high) = (Math.Min(low, place), Math.Max(high, place));
        if (low > high)
            (low, high) = (0, 1);
        double margin = high > low ? 0.04 * (high - low) : low == 0 ? 1 : 0.1 * Math.Abs(low);
        return (From is { } from && CanShow(from) ? Place(from) : low - margin, To is { } to && CanShow(to) ? Place(to) : high + margin);
    }
}
