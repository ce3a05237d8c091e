namespace DecayAtlas.Grids;

/// <summary>How a value is taken from the cells around a point.</summary>
public enum SamplingRule
{
    /// <summary>The cell that holds the point.</summary>
    Nearest,

    /// <summary>The four cell centres around the point, weighted linearly in longitude and latitude.</summary>
    Bilinear,
}
