using ScottPlot;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>A chart as data; <see cref="Draw"/> makes the figure. Title, note and legend stand above it, so that nothing lies over the data.</summary>
/// <param name="Title">What is shown, best as the finding itself.</param>
/// <param name="AltText">For readers who can't see it: what is drawn, and what it shows.</param>
public abstract record Chart(string Title, string AltText)
{
    internal const float Edge = 16;
    private const float TitleSize = 17, NoteSize = 13, LegendSize = 12;

    /// <summary>A sentence beneath the title: what may be concluded, how many values.</summary>
    public string? Note { get; init; }

    /// <summary>Width in CSS pixels.</summary>
    public int Width { get; init; } = 720;

    /// <summary>Height in CSS pixels.</summary>
    public int Height { get; init; } = 480;

    /// <summary>Makes the figure.</summary>
    public Figure Draw() => new(Title, AltText, Width, Height, Paint);

    internal abstract IReadOnlyList<LegendKey> Legend { get; }

    /// <summary>Paints the chart without its header.</summary>
    internal abstract void PaintBody(SKCanvas canvas, SKRect area);

    /// <summary>Size of the title of a chart within a larger figure.</summary>
    internal void PaintWithin(SKCanvas canvas, SKRect area, float titleSize)
    {
        float y = area.Top;
        if (Title.Length > 0)
        {
            y += titleSize + 2;
            Lettering.Draw(canvas, Title, area.Left + 8, y, titleSize, HouseStyle.SkColour(HouseStyle.Ink), bold: true);
            y += 4;
        }

        PaintBody(canvas, new SKRect(area.Left, y, area.Right, area.Bottom));
    }

    private void Paint(SKCanvas canvas)
    {
        canvas.Clear(HouseStyle.SkColour(HouseStyle.Ground));
        float y = Edge;
        foreach (string line in Lettering.Wrap(Title, Width - 2 * Edge, TitleSize, bold: true))
            Lettering.Draw(canvas, line, Edge, y += TitleSize + 4, TitleSize, HouseStyle.SkColour(HouseStyle.Ink), bold: true);
        y += 3;
        foreach (string line in Lettering.Wrap(Note ?? "", Width - 2 * Edge, NoteSize))
            Lettering.Draw(canvas, line, Edge, y += NoteSize + 4, NoteSize, HouseStyle.SkColour(HouseStyle.Quiet));
        y = PaintLegend(canvas, y + 6);
        PaintBody(canvas, new SKRect(0, y + 4, Width, Height));
    }

    private float PaintLegend(SKCanvas canvas, float y)
    {
        if (Legend.Count < 1)
            return y;
        float x = Edge;
        y += LegendSize + 4;
        foreach (LegendKey key in Legend)
        {
            float needs = 24 + Lettering.Width(key.Text, LegendSize) + 16;
            if (x > Edge && x + needs > Width - Edge)
            {
                x = Edge;
                y += LegendSize + 6;
            }

            key.Paint(canvas, x, y - LegendSize * 0.36f);
            Lettering.Draw(canvas, key.Text, x + 24, y, LegendSize, HouseStyle.SkColour(HouseStyle.Ink));
            x += needs;
        }

        return y + 4;
    }
}

/// <summary>A sign of the legend with its words.</summary>
internal sealed record LegendKey(string Text, string Colour, MarkerShape? Shape, bool HasLine, bool HasBand, bool IsDashed)
{
    public void Paint(SKCanvas canvas, float x, float y)
    {
        using var paint = new SKPaint { IsAntialias = true, Color = HouseStyle.SkColour(Colour), StrokeWidth = 2 };
        if (HasBand)
        {
            using var fill = new SKPaint { IsAntialias = true, Color = HouseStyle.SkColour(Colour).WithAlpha(50) };
            canvas.DrawRect(x, y - 5, 18, 10, fill);
        }

        if (HasLine && IsDashed)
        {
            canvas.DrawLine(x, y, x + 7, y, paint);
            canvas.DrawLine(x + 11, y, x + 18, y, paint);
        }
        else if (HasLine)
        {
            canvas.DrawLine(x, y, x + 18, y, paint);
        }

        if (Shape is not { } shape)
            return;
        using ScottPlot.Paint scottPaint = ScottPlot.Paint.NewDisposablePaint();
        new MarkerStyle(shape, 8, HouseStyle.Colour(Colour)) { OutlineWidth = 0 }.Render(canvas, new Pixel(x + 9, y), scottPaint);
    }
}
