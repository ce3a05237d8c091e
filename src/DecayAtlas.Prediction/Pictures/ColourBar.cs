using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>The scale of rates as a bar with round ticks; an arrow where rates go on beyond the colours.</summary>
internal sealed class ColourBar(SKCanvas canvas, RateScale scale, float length = ColourBar.Length, float thickness = ColourBar.Thickness)
{
    public const int Thickness = 30, Length = 260, Arrow = 14;

    /// <summary>Low at the bottom; the colours start at <paramref name="top"/>, an arrow reaches above it.</summary>
    public void DrawUpright(float x, float top)
    {
        canvas.Save();
        // Drawn along x and turned: one drawing serves both.
        canvas.Translate(x, top + length);
        canvas.RotateDegrees(-90);
        DrawColours();
        canvas.Restore();
        DrawTicks((along, label) =>
        {
            float y = top + length - along;
            using SKPaint line = Ink.Stroke(Ink.Text, 1);
            canvas.DrawLine(x + thickness, y, x + thickness + 6, y, line);
            Lettering.Draw(canvas, label, x + thickness + 12, y + 5.5f, 15, Ink.Text);
        });
    }

    /// <summary>Low at the left.</summary>
    public void DrawLying(float x, float top)
    {
        canvas.Save();
        canvas.Translate(x, top);
        DrawColours();
        canvas.Restore();
        float last = float.NegativeInfinity;
        DrawTicks((along, label) =>
        {
            using SKPaint line = Ink.Stroke(Ink.Text, 1);
            canvas.DrawLine(x + along, top + thickness, x + along, top + thickness + 6, line);
            // a label that would run into the one before is left out
            if (along - last < Lettering.Width(label, 14) + 6)
                return;
            last = along;
            Lettering.Draw(canvas, label, x + along, top + thickness + 23, 14, Ink.Text, SKTextAlign.Center);
        });
    }

    private void DrawTicks(Action<float, string> draw)
    {
        foreach ((double value, string label) in scale.Marks())
            draw((float)((value - scale.Low) / (scale.High - scale.Low) * length), label);
    }

    private void DrawColours()
    {
        using SKPaint fill = new() { IsAntialias = false };
        for (int i = 0; i < length; i++)
        {
            fill.Color = scale.Ramp.At((i + 0.5) / length);
            canvas.DrawRect(i, 0, 1, thickness, fill);
        }
        using SKPath outline = new();
        outline.MoveTo(0, 0);
        if (scale.OpenBelow)
            DrawArrow(outline, 0, -Arrow, scale.Ramp.At(0));
        outline.LineTo(0, thickness);
        outline.LineTo(length, thickness);
        if (scale.OpenAbove)
            DrawArrow(outline, length, length + Arrow, scale.Ramp.At(1));
        outline.LineTo(length, 0);
        outline.Close();
        using SKPaint line = Ink.Stroke(Ink.Text, 1);
        canvas.DrawPath(outline, line);
    }

    private void DrawArrow(SKPath outline, float from, float tip, SKColor colour)
    {
        using SKPath path = new();
        path.MoveTo(from, 0);
        path.LineTo(tip, thickness / 2f);
        path.LineTo(from, thickness);
        path.Close();
        using SKPaint fill = Ink.Fill(colour);
        canvas.DrawPath(path, fill);
        outline.LineTo(tip, thickness / 2f);
    }
}
