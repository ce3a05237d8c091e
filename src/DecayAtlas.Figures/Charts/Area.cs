namespace DecayAtlas.Figures.Charts;

internal readonly record struct Area(double Left, double Top, double Right, double Bottom)
{
    public double Width => Right - Left;

    public double Height => Bottom - Top;
}
