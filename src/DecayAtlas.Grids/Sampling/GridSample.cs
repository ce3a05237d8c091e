namespace DecayAtlas.Grids;

/// <summary>How a sample came about.</summary>
public enum SampleStatus
{
    /// <summary>The rule gave a value.</summary>
    Sampled,

    /// <summary>The point's own cell is missing; the value is that of the nearest cell that has one.</summary>
    NearestValid,

    /// <summary>The point is on the grid, and neither its cell nor one within the stated distance has a value.</summary>
    Missing,

    /// <summary>The point is not on the grid, or a coordinate is not a number.</summary>
    Outside,
}

/// <summary>One value taken from a grid.</summary>
/// <param name="Value">The value in the grid's unit; null where the status is missing or outside.</param>
/// <param name="Status">How the value came about.</param>
/// <param name="Rule">
/// The rule really used: a bilinear request that had to use a single cell says <see cref="SamplingRule.Nearest"/>.
/// </param>
/// <param name="DistanceMetres">
/// Great-circle distance from the point to the centre of the cell used; null for a bilinear value and for no value.
/// </param>
public readonly record struct GridSample(double? Value, SampleStatus Status, SamplingRule Rule, double? DistanceMetres);
