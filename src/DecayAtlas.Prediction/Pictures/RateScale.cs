using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Colours for values. The scale spans the middle 96 % of the picture, so that a few odd cells do not flatten all contrast;
/// what lies beyond takes the end colour and the legend shows an arrow there.
/// </summary>
internal sealed record RateScale(double Low, double High, bool OpenBelow, bool OpenAbove, Palette Palette)
{
    /// <summary>A scale of amounts.</summary>
    public static RateScale Of(MapRaster raster)
    {
        if (raster.Quantiles(0, 1) is not { } all || raster.Quantiles(0.02, 0.98) is not { } middle)
            return new(0, 1, false, false, Palette.Viridis);
        // One rate everywhere still needs a scale with two ends.
        return middle.High > middle.Low
            ? new(middle.Low, middle.High, all.Low < middle.Low, all.High > middle.High, Palette.Viridis)
            : new(middle.Low * 0.9, middle.High * 1.1, all.Low < middle.Low * 0.9, all.High > middle.High * 1.1, Palette.Viridis);
    }

    /// <summary>A scale of change, with no change (0) in its middle.</summary>
    public static RateScale OfChange(MapRaster raster)
    {
        if (raster.Quantiles(0, 1) is not { } all || raster.Quantiles(0.02, 0.98) is not { } middle)
            return new(-1, 1, false, false, Palette.PurpleToOrange);
        double side = Math.Max(Math.Abs(middle.Low), Math.Abs(middle.High));
        side = side > 0 ? side : 1;
        return new(-side, side, all.Low < -side, all.High > side, Palette.PurpleToOrange);
    }

    public SKColor Colour(double value) => Palette.At((value - Low) / (High - Low));

    public IReadOnlyList<double> Ticks() => RoundTicks.Between(Low, High, 8);
}
