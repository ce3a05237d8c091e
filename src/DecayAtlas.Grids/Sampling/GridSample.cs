namespace DecayAtlas.Grids.Sampling;

public enum SampleStatus : byte
{
    Sampled,

    /// <summary>The point's own cell is missing; the value is that of the nearest cell that has one.</summary>
    NearestValid,

    /// <summary>The point is on the grid, and neither its cell nor one within the stated distance has a value.</summary>
    Missing,

    /// <summary>The point is not on the grid, or a coordinate is not a number.</summary>
    Outside,
}

/// <param name="Value">The value in the grid's unit; null where the status is missing or outside.</param>
/// <param name="Rule">
/// The rule really used: a bilinear request that had to use a single cell, and a request for a circle where the point's
/// uncertainty is not known, say <see cref="SamplingRule.Nearest"/>.
/// </param>
/// <param name="DistanceMetres">
/// Distance on the ellipsoid from the point to the centre of the cell used; null where several cells or none were used.
/// </param>
public readonly record struct GridSample(double? Value, SampleStatus Status, SamplingRule Rule, double? DistanceMetres)
{
    // Kept as not-a-number and not as nullable: a million samples take half the room.
    private readonly double _value = Value ?? double.NaN;
    private readonly double _distance = DistanceMetres ?? double.NaN;
    private readonly double _deviation = double.NaN;
    private readonly double _validShare = double.NaN;
    private readonly double _classShare = double.NaN;

    public double? Value
    {
        get => Known(_value);
        init => _value = value ?? double.NaN;
    }

    public double? DistanceMetres
    {
        get => Known(_distance);
        init => _distance = value ?? double.NaN;
    }

    /// <summary>Standard deviation of the values under the circle, weighted by area; null for other rules.</summary>
    public double? StandardDeviation
    {
        get => Known(_deviation);
        init => _deviation = value ?? double.NaN;
    }

    /// <summary>Share of the circle's area that lies on cells with a value, 0..1; null for rules without a circle.</summary>
    public double? ValidShare
    {
        get => Known(_validShare);
        init => _validShare = value ?? double.NaN;
    }

    /// <summary>Share of the area with a value that the commonest class covers, 0..1; null for other rules.</summary>
    public double? ClassShare
    {
        get => Known(_classShare);
        init => _classShare = value ?? double.NaN;
    }

    private static double? Known(double number) => double.IsNaN(number) ? null : number;
}
