namespace DecayAtlas.Figures.Charts;

/// <summary>A part of a sheet.</summary>
internal readonly record struct Area(double Left, double Top, double Right, double Bottom)
{
    public double Width => Right - Left;

    public double Height => Bottom - Top;
}
