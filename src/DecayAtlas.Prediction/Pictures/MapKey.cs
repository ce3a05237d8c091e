using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>What the colours of a map stand for, drawn into its panel.</summary>
internal interface IMapKey
{
    /// <summary>A colour of the map, to show how it is hatched.</summary>
    SKColor Sample { get; }

    /// <summary>Draws it beside a map; gives its lower edge.</summary>
    float DrawUpright(SKCanvas canvas, float x, float top);

    /// <summary>Draws it below a map; gives its right edge.</summary>
    float DrawLying(SKCanvas canvas, float x, float top);
}

/// <summary>A bar of colours, for rates with a second scale of half-lives in days.</summary>
internal sealed class RateKey(RateScale scale) : IMapKey
{
    private const string HalfLifeHeading = "half-life, days";
    private const int SecondScale = 112, HeadingHeight = 20, LeastGap = 19, LyingGap = 38;

    public SKColor Sample => scale.Ramp.At(0.55);

    public float DrawUpright(SKCanvas canvas, float x, float top)
    {
        float barTop = top + (scale.HasHalfLife ? HeadingHeight : 0) + (scale.OpenAbove ? ColourBar.Arrow : 0), second = x + SecondScale;
        new ColourBar(canvas, scale).DrawUpright(x, barTop);
        if (scale.HasHalfLife)
        {
            using SKPaint line = Ink.Stroke(Ink.Text, 1);
            Lettering.Draw(canvas, HalfLifeHeading, second, top + 8, 14, Ink.Quiet);
            canvas.DrawLine(second, barTop, second, barTop + ColourBar.Length, line);
            foreach ((float along, string label) in Spread(LeastGap))
            {
                float y = barTop + ColourBar.Length - along;
                canvas.DrawLine(second, y, second + 6, y, line);
                Lettering.Draw(canvas, label, second + 12, y + 5.5f, 15, Ink.Text);
            }
        }

        return barTop + ColourBar.Length + ColourBar.Arrow;
    }

    public float DrawLying(SKCanvas canvas, float x, float top)
    {
        float left = x + ColourBar.Arrow, second = top + ColourBar.Thickness + 30;
        new ColourBar(canvas, scale).DrawLying(left, top);
        if (scale.HasHalfLife)
        {
            using SKPaint line = Ink.Stroke(Ink.Text, 1);
            canvas.DrawLine(left, second, left + ColourBar.Length, second, line);
            foreach ((float along, string label) in Spread(LyingGap))
            {
                canvas.DrawLine(left + along, second, left + along, second + 5, line);
                Lettering.Draw(canvas, label, left + along, second + 19, 14, Ink.Text, SKTextAlign.Center);
            }

            Lettering.Draw(canvas, HalfLifeHeading, left + ColourBar.Length + 10, second + 5, 13, Ink.Quiet);
        }

        return left + ColourBar.Length;
    }

    /// <summary>Marks of half-lives that do not run into one another.</summary>
    private List<(float Along, string Label)> Spread(float gap)
    {
        List<(float Along, string Label)> marks = [];
        foreach ((double rate, string label) in scale.HalfLifeMarks())
        {
            float along = (float)((rate - scale.Low) / (scale.High - scale.Low) * ColourBar.Length);
            if (marks.Count == 0 || Math.Abs(along - marks[^1].Along) >= gap)
                marks.Add((along, label));
        }

        return marks;
    }
}
