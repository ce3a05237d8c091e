using System.Globalization;
using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Colours for values. The scale spans the middle 96 % of the picture, so that a few odd cells do not flatten all contrast;
/// what lies beyond takes the end colour and the legend shows an arrow there.
/// </summary>
internal sealed record RateScale(double Low, double High, bool OpenBelow, bool OpenAbove, bool IsChange = false)
{
    public Ramp Ramp => IsChange ? Ramp.Change : Ramp.Rates;

    public static RateScale Of(ThinnedMap raster)
    {
        if (raster.Between(0, 1) is not { } all || raster.Between(0.02, 0.98) is not { } middle)
            return new(0, 1, false, false);
        // One rate everywhere still needs a scale with two ends.
        return middle.High > middle.Low
            ? new(middle.Low, middle.High, all.Low < middle.Low, all.High > middle.High)
            : new(middle.Low * 0.9, middle.High * 1.1, all.Low < middle.Low * 0.9, all.High > middle.High * 1.1);
    }

    /// <summary>A scale of change, ln of a ratio, with no change (0) in its middle.</summary>
    public static RateScale OfChange(ThinnedMap raster)
    {
        if (raster.Between(0, 1) is not { } all || raster.Between(0.02, 0.98) is not { } middle)
            return new(-1, 1, false, false, true);
        double side = Math.Max(Math.Abs(middle.Low), Math.Abs(middle.High));
        side = side > 0 ? side : 1;
        return new(-side, side, all.Low < -side, all.High > side, true);
    }

    public SKColor Colour(double value) => Ramp.At((value - Low) / (High - Low));

    /// <summary>Round numbers along the scale with what is written beside them; change is held as ln of a ratio and written as the
    /// ratio.</summary>
    public IReadOnlyList<(double Value, string Label)> Marks()
    {
        if (IsChange)
            return RoundNumbers.Ratios(Low, High);
        IReadOnlyList<double> ticks = RoundNumbers.Between(Low, High, 8);
        return [.. ticks.Select(t => (t, t.ToString(RoundNumbers.Format(ticks), CultureInfo.InvariantCulture)))];
    }
}
