using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>What a picture has that its legend must explain.</summary>
internal readonly record struct PictureShows(bool Outside, bool Untold, bool Missing);

/// <summary>The panel of a map: its key, what else is drawn, north arrow and scale bar.</summary>
internal sealed class Legend(SKCanvas canvas, MapLayout layout, IMapKey key, MapWords words)
{
    private const float EntryHeight = 48, WidestScaleBar = 190, TextSize = 15;
    private const int ScaleBarHeight = 84;

    /// <summary>Draws it and gives what is left free of the panel, nothing where it lies below the map.</summary>
    public SKRectI Draw(PictureShows shows, int sitesDrawn, int numbered)
    {
        float x = layout.Panel.Left, top = layout.Panel.Top;
        Lettering.Draw(canvas, words.Quantity, x, top + 15, 19, Ink.Text, bold: true);
        if (layout.PanelBelow)
        {
            Lettering.Draw(canvas, words.Unit, x + Lettering.Width(words.Quantity, 19, bold: true) + 12, top + 15, TextSize, Ink.Quiet);
            float right = key.DrawLying(canvas, x, top + 34);
            DrawEntries(right + 96, top + 4, 290, 2, shows, sitesDrawn, numbered);
            DrawScaleBar(layout.Panel.Right - WidestScaleBar - 90, top + 60);
            DrawNorth(layout.Panel.Right - 14, top + 30);
            return SKRectI.Empty;
        }
        Lettering.Draw(canvas, words.Unit, x, top + 38, TextSize, Ink.Quiet);
        float entries = key.DrawUpright(canvas, x, top + 56) + 28;
        int drawn = DrawEntries(x, entries, 0, 5, shows, sitesDrawn, numbered);
        DrawScaleBar(x, layout.Panel.Bottom - 24);
        DrawNorth(layout.Panel.Right - 14, layout.Panel.Bottom - 42);
        return new SKRectI(layout.Panel.Left, (int)(entries + drawn * EntryHeight), layout.Panel.Right,
            layout.Panel.Bottom - ScaleBarHeight);
    }

    /// <summary>Only what the map really shows, in columns of <paramref name="rows"/>.</summary>
    private int DrawEntries(float x, float y, float columnWidth, int rows, PictureShows shows, int sitesDrawn, int numbered)
    {
        int drawn = 0;
        (float X, float Y) Next()
        {
            (float, float) place = (x + drawn / rows * columnWidth, y + drawn % rows * EntryHeight);
            drawn++;
            return place;
        }
        if (shows.Outside)
            DrawSwatch(Next(), "Outside the area of", "applicability: do not use", (px, py) => Ink.Outside(key.Sample, px, py));
        if (shows.Untold)
            DrawSwatch(Next(), "Not told apart", "from no change", (px, py) => Ink.Untold(key.Sample, px, py));
        if (shows.Missing)
            DrawSwatch(Next(), "No prediction:", words.Unpredicted, (_, _) => Ink.NoData);
        if (numbered > 0)
        {
            (float left, float top) = Next();
            NumberedPlaces.Draw(canvas, left + ColourBar.Thickness / 2f, top + 11, "1");
            Lettering.Draw(canvas, $"Proposed place ({numbered})", left + ColourBar.Thickness + 12, top + 16, TextSize, Ink.Text);
        }
        if (sitesDrawn > 0)
        {
            (float left, float top) = Next();
            MapPicture.DrawSite(canvas, left + ColourBar.Thickness / 2f, top + 11);
            Lettering.Draw(canvas, $"{words.Dots} ({sitesDrawn})", left + ColourBar.Thickness + 12, top + 16, TextSize, Ink.Text);
        }
        return drawn;
    }

    private void DrawSwatch((float X, float Y) at, string first, string second, Func<int, int, SKColor> fill)
    {
        (float x, float y) = (MathF.Round(at.X), MathF.Round(at.Y));
        using SKPaint paint = new() { IsAntialias = false };
        for (int py = 0; py < 22; py++)
        {
            for (int px = 0; px < ColourBar.Thickness; px++)
            {
                paint.Color = fill(px, py);
                canvas.DrawRect(x + px, y + py, 1, 1, paint);
            }
        }
        using SKPaint line = Ink.Stroke(Ink.Line, 1);
        canvas.DrawRect(x, y, ColourBar.Thickness, 22, line);
        Lettering.Draw(canvas, first, x + ColourBar.Thickness + 12, y + 9, TextSize, Ink.Text);
        Lettering.Draw(canvas, second, x + ColourBar.Thickness + 12, y + 28, TextSize, Ink.Text);
    }

    /// <summary>A bar of round length, true at the middle latitude of the map.</summary>
    private void DrawScaleBar(float x, float bottom)
    {
        (double length, float pixels) = ScaleBar(layout, WidestScaleBar);
        using SKPaint dark = Ink.Fill(Ink.Text);
        using SKPaint line = Ink.Stroke(Ink.Text, 1.2f);
        canvas.DrawRect(x, bottom - 8, pixels / 2, 8, dark);
        canvas.DrawRect(x, bottom - 8, pixels, 8, line);
        (double shown, string unit) = length >= 1000 ? (length / 1000, "km") : (length, "m");
        string Number(double v) => Invariant($"{v:0.###}");
        Lettering.Draw(canvas, "0", x, bottom - 15, 14, Ink.Text, SKTextAlign.Center);
        Lettering.Draw(canvas, Number(shown / 2), x + pixels / 2, bottom - 15, 14, Ink.Text, SKTextAlign.Center);
        Lettering.Draw(canvas, $"{Number(shown)} {unit}", x + pixels - Lettering.Width(Number(shown), 14) / 2, bottom - 15, 14, Ink.Text);
        Lettering.Draw(canvas, $"at {Graticule.Label(layout.MiddleLatitudeDegrees, 'N', 'S', 1)}", x, bottom + 20, 13, Ink.Quiet);
    }

    /// <summary>Length in metres of the scale bar and in pixels on the map, not above <paramref name="widestPixels"/>.</summary>
    internal static (double LengthMetres, float Pixels) ScaleBar(MapLayout layout, float widestPixels)
    {
        double length = RoundNumbers.RoundBelow(layout.MetresPerPixel * widestPixels);
        return (length, (float)(length / layout.MetresPerPixel));
    }

    private void DrawNorth(float x, float y)
    {
        using SKPaint fill = Ink.Fill(Ink.Text);
        using SKPaint line = Ink.Stroke(Ink.Text, 1.2f);
        foreach (int side in new[] { -1, 1 })
        {
            using SKPath half = new();
            half.MoveTo(x, y - 22);
            half.LineTo(x + side * 11, y + 14);
            half.LineTo(x, y + 7);
            half.Close();
            if (side < 0)
                canvas.DrawPath(half, fill);
            canvas.DrawPath(half, line);
        }
        Lettering.Draw(canvas, "N", x, y + 34, 16, Ink.Text, SKTextAlign.Center, bold: true);
    }
}
