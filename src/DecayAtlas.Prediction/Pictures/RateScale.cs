using System.Globalization;
using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Colours for values. The scale spans the middle 96 % of the applicable part of the picture, so that a few odd cells do not flatten all
/// contrast; what lies beyond takes the end colour and the legend shows an arrow there.
/// </summary>
internal sealed record RateScale(double Low, double High, bool OpenBelow, bool OpenAbove)
{
    public Ramp Ramp { get; init; } = Ramp.Rates;

    /// <summary>Of a scale of change, its marks, which reach both ends; ratios are held as their ln.</summary>
    private IReadOnlyList<(double Value, string Label)>? Changes { get; init; }

    /// <summary>Whether values are rates a day, which also have a scale of half-lives.</summary>
    public bool HasHalfLife { get; init; }

    public static RateScale Of(ThinnedMap raster)
    {
        if (raster.Between(0, 1) is not { } all || raster.BetweenApplicable(0.02, 0.98) is not { } middle)
            return new(0, 1, false, false);
        // One value everywhere still needs a scale with two ends.
        double side = middle.High > middle.Low ? 0 : Math.Max(Math.Abs(middle.Low) * 0.1, 1e-6);
        (double low, double high) = (middle.Low - side, middle.High + side);
        return new(low, high, all.Low < low, all.High > high);
    }

    /// <summary>A scale of change, a difference or ln of a ratio, with no change (0) in its middle and a round number at either
    /// end.</summary>
    public static RateScale OfChange(ThinnedMap raster, bool isOfRatios)
    {
        (double Low, double High) all = raster.Between(0, 1) ?? (0, 0), middle = raster.BetweenApplicable(0.02, 0.98) ?? (0, 0);
        double spanned = Math.Max(Math.Abs(middle.Low), Math.Abs(middle.High));
        IReadOnlyList<(double Value, string Label)> marks =
            isOfRatios ? RoundChanges.OfRatios(spanned) : RoundChanges.OfDifferences(spanned);
        // what the data are beyond the last mark by rounding alone is no more than it
        double side = Math.Max(marks[^1].Value, spanned);
        return new(-side, side, all.Low < -side, all.High > side) { Ramp = Ramp.Change, Changes = marks };
    }

    /// <summary>Round half-lives along the scale of rates, in days; none on another scale.</summary>
    public IReadOnlyList<(double Value, string Label)> HalfLifeMarks() => !HasHalfLife || !(Low > 0) ? []
        : [.. RoundNumbers.Logarithmic(HalfLife.Days(High), HalfLife.Days(Low), 7)
            .Select(days => (HalfLife.RatePerDay(days), days.ToString("0.###", CultureInfo.InvariantCulture)))];

    public SKColor Colour(double value) => Ramp.At((value - Low) / (High - Low));

    /// <summary>Round numbers along the scale with what is written beside them.</summary>
    public IReadOnlyList<(double Value, string Label)> Marks()
    {
        if (Changes is not null)
            return Changes;
        IReadOnlyList<double> ticks = RoundNumbers.Between(Low, High, 8);
        return [.. ticks.Select(t => (t, t.ToString(RoundNumbers.Format(ticks), CultureInfo.InvariantCulture)))];
    }
}
