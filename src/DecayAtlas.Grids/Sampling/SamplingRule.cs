namespace DecayAtlas.Grids.Sampling;

/// <summary>How a value is taken from the cells around a point.</summary>
public enum SamplingRule : byte
{
    /// <summary>The cell that holds the point.</summary>
    Nearest,

    /// <summary>The four cell centres around the point, weighted linearly in the grid's own coordinates.</summary>
    Bilinear,

    /// <summary>The cells under the circle of the point's uncertainty, weighted by the area that the circle has of each.</summary>
    Disc,

    /// <summary>The class that covers most of the circle of the point's uncertainty.</summary>
    Mode,
}
