using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>Colours of a grid's values and how a legend tells them.</summary>
internal interface IGridColours
{
    SKColor Of(double value);

    /// <summary>Draws the legend and gives its lower edge; <paramref name="lying"/> where there is little height.</summary>
    float DrawLegend(SKCanvas canvas, float x, float top, bool lying);
}

/// <summary>Quantities along the palette, from the 2nd to the 98th percentile of what the picture shows.</summary>
internal sealed class ValueColours : IGridColours
{
    private readonly RateScale _scale;

    public ValueColours(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Where(v => !double.IsNaN(v)).Order()];
        if (sorted.Length == 0)
        {
            _scale = new RateScale(0, 1, false, false);
            return;
        }

        double low = sorted[(int)(0.02 * (sorted.Length - 1))], high = sorted[(int)(0.98 * (sorted.Length - 1))];
        if (!(high > low))
            (low, high) = (sorted[0], sorted[^1]);
        // One value everywhere still needs a scale with two ends.
        if (!(high > low))
            (low, high) = (low - Math.Max(1, Math.Abs(low)) / 10, low + Math.Max(1, Math.Abs(low)) / 10);
        _scale = new RateScale(low, high, sorted[0] < low, sorted[^1] > high);
    }

    public SKColor Of(double value) => _scale.Colour(value);

    public float DrawLegend(SKCanvas canvas, float x, float top, bool lying)
    {
        if (lying)
        {
            new ColourBar(canvas, _scale).DrawLying(x + ColourBar.Arrow, top);
            return top + ColourBar.Thickness + 30;
        }

        float barTop = top + (_scale.OpenAbove ? ColourBar.Arrow : 0);
        new ColourBar(canvas, _scale).DrawUpright(x, barTop);
        return barTop + ColourBar.Length + ColourBar.Arrow;
    }
}

/// <summary>Classes in colours that readers with a colour vision deficiency tell apart (those of series), darker in a second and third
/// round.</summary>
internal sealed class ClassColours : IGridColours
{
    private static readonly SKColor[] Hues = [.. HouseColours.Series.Select(t => SKColor.Parse(t.Light))];

    private readonly Dictionary<double, int> _ranks = [];
    private readonly (double Class, int Count)[] _commonest;

    public ClassColours(IReadOnlyList<double> values)
    {
        (double Class, int Count)[] counts = [.. values.Where(v => !double.IsNaN(v)).CountBy(v => v).Select(c => (c.Key, c.Value))];
        // By code and not by frequency: the same class has the same colour in pictures of two parts of a grid that hold the same classes.
        foreach ((double code, _) in counts.OrderBy(c => c.Class))
            _ranks[code] = _ranks.Count;
        _commonest = [.. counts.OrderByDescending(c => c.Count).ThenBy(c => c.Class)];
    }

    public SKColor Of(double value)
    {
        int rank = _ranks[value], round = rank / Hues.Length % 3;
        return Ramp.Mix(Hues[rank % Hues.Length], SKColors.Black, round * 0.3);
    }

    public float DrawLegend(SKCanvas canvas, float x, float top, bool lying)
    {
        int rows = lying ? 3 : 10, shown = Math.Min(_commonest.Length, lying ? 9 : 10);
        for (int i = 0; i < shown; i++)
        {
            float left = x + i / rows * 110, y = top + i % rows * 28;
            GridPicture.Swatch(canvas, left, y, Of(_commonest[i].Class));
            Lettering.Draw(canvas, Invariant($"{_commonest[i].Class}"), left + ColourBar.Thickness + 10, y + 16, 15,
                Ink.Text);
        }

        float bottom = top + Math.Min(rows, Math.Max(1, shown)) * 28;
        if (_commonest.Length > shown)
            Lettering.Draw(canvas, $"and {_commonest.Length - shown} more", x, bottom + 14, 15, Ink.Quiet);
        return bottom;
    }
}
