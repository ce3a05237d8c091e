using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>A small second map of the same region beside the first, with its own colours: how wide the intervals are.</summary>
internal sealed record MapInset(ThinnedMap Raster, RateScale Scale, string Title)
{
    /// <summary>More pixels a side than it can have.</summary>
    public const int MaximumSide = 400;

    private const int TitleHeight = 42, BarGap = 12, BarHeight = 62, Thickness = 16, SmallestSide = 60;

    /// <param name="room">Where it may stand; where it is too low nothing is drawn.</param>
    public void Draw(SKBitmap bitmap, SKCanvas canvas, MapLayout layout, SKRectI room)
    {
        int most = room.Height - TitleHeight - BarGap - BarHeight;
        double scale = Math.Min((double)room.Width / layout.Frame.Width, (double)most / layout.Frame.Height);
        int width = (int)(layout.Frame.Width * scale), height = (int)(layout.Frame.Height * scale);
        if (Math.Min(width, height) < SmallestSide || Raster.Between(0, 1) is null)
            return;

        int top = room.Bottom - BarHeight - BarGap - height;
        SKRectI frame = SKRectI.Create(room.Left, top, width, height);
        float baseline = top - TitleHeight + 16;
        foreach (string line in Lettering.Wrap(Title, room.Width, 14).Take(2))
        {
            Lettering.Draw(canvas, line, room.Left, baseline, 14, Ink.Text);
            baseline += 18;
        }

        CellLayer.Draw(bitmap, new ScaledCells(Raster, Scale), layout with { Frame = frame });
        using SKPaint edge = Ink.Stroke(Ink.Text, 1);
        canvas.DrawRect(frame.Left - 0.5f, frame.Top - 0.5f, frame.Width + 1, frame.Height + 1, edge);
        new ColourBar(canvas, Scale, room.Width - 2 * ColourBar.Arrow, Thickness)
            .DrawLying(room.Left + ColourBar.Arrow, frame.Bottom + BarGap);
    }
}
