namespace DecayAtlas.Grids.Sampling;

public enum SamplingRule : byte
{
    Nearest,

    /// <summary>The four cell centres around the point, weighted linearly in the grid's own coordinates.</summary>
    Bilinear,

    /// <summary>The cells under the circle of the point's uncertainty, weighted by the area that the circle has of each.</summary>
    Disc,

    /// <summary>The class that covers most of the circle of the point's uncertainty.</summary>
    Mode,
}
