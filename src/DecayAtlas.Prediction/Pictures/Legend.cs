using System.Globalization;
using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>The panel right of the map: colour bar, what else is drawn, north arrow and scale bar.</summary>
internal sealed class Legend(SKCanvas canvas, MapLayout layout, RateScale scale)
{
    private const int BarWidth = 30;
    private const int BarHeight = 250;
    private const int ArrowHeight = 14;

    public void Draw(MapRaster raster, int sitesDrawn)
    {
        float x = layout.PanelLeft, top = MapLayout.HeaderHeight;
        Lettering.Draw(canvas, "Decay rate k", x, top + 16, 19, Ink.Text, bold: true);
        Lettering.Draw(canvas, "per day (d⁻¹), predicted", x, top + 39, 15, Ink.Quiet);
        float barTop = top + 58 + (scale.OpenAbove ? ArrowHeight : 0);
        DrawBar(x, barTop);
        float y = barTop + BarHeight + (scale.OpenBelow ? ArrowHeight : 0) + 36;
        DrawEntries(x, y, raster, sitesDrawn);
        DrawScaleBar(x, layout.PanelBottom - 30);
        DrawNorth(x + MapLayout.PanelWidth - 34, layout.PanelBottom - 62);
    }

    private void DrawBar(float x, float top)
    {
        using var paint = new SKPaint { IsAntialias = false };
        for (int i = 0; i < BarHeight; i++)
        {
            paint.Color = Palette.At(1 - (i + 0.5) / BarHeight);
            canvas.DrawRect(x, top + i, BarWidth, 1, paint);
        }
        using var outline = new SKPath();
        outline.MoveTo(x, top);
        if (scale.OpenAbove)
            outline.LineTo(x + BarWidth / 2f, top - ArrowHeight);
        outline.LineTo(x + BarWidth, top);
        outline.LineTo(x + BarWidth, top + BarHeight);
        if (scale.OpenBelow)
            outline.LineTo(x + BarWidth / 2f, top + BarHeight + ArrowHeight);
        outline.LineTo(x, top + BarHeight);
        outline.Close();
        FillArrow(scale.OpenAbove, x, top, -ArrowHeight, 1);
        FillArrow(scale.OpenBelow, x, top + BarHeight, ArrowHeight, 0);
        using var line = new SKPaint { Color = Ink.Text, StrokeWidth = 1, IsStroke = true, IsAntialias = true };
        canvas.DrawPath(outline, line);
        var ticks = scale.Ticks();
        var labels = RoundTicks.Labels(ticks);
        for (int i = 0; i < ticks.Count; i++)
        {
            float y = top + (float)((scale.High - ticks[i]) / (scale.High - scale.Low)) * BarHeight;
            canvas.DrawLine(x + BarWidth, y, x + BarWidth + 6, y, line);
            Lettering.Draw(canvas, labels[i], x + BarWidth + 12, y + 5.5f, 15, Ink.Text);
        }
    }

    private void FillArrow(bool drawn, float x, float y, float height, double fraction)
    {
        if (!drawn)
            return;
        using var path = new SKPath();
        path.MoveTo(x, y);
        path.LineTo(x + BarWidth / 2f, y + height);
        path.LineTo(x + BarWidth, y);
        path.Close();
        using var paint = new SKPaint { Color = Palette.At(fraction), IsAntialias = true };
        canvas.DrawPath(path, paint);
    }

    private void DrawEntries(float x, float y, MapRaster raster, int sitesDrawn)
    {
        (bool anyOutside, bool anyMissing) = (false, false);
        for (int row = 0; row < raster.Rows; row++)
        {
            for (int column = 0; column < raster.Columns; column++)
            {
                anyOutside |= raster.IsOutsideAt(column, row);
                anyMissing |= double.IsNaN(raster.RateAt(column, row));
            }
        }
        if (anyOutside)
            y = DrawEntry(x, y, "Outside the training range:", "the model extrapolates here", (px, py) => Ink.Outside(Palette.At(0.55), px, py));
        if (anyMissing)
            y = DrawEntry(x, y, "No prediction", "(sea, or a covariate missing)", (_, _) => Ink.NoData);
        if (sitesDrawn > 0)
        {
            MapPicture.DrawSite(canvas, x + BarWidth / 2f, y + 11);
            Lettering.Draw(canvas, string.Create(CultureInfo.InvariantCulture, $"Site ({sitesDrawn} shown)"), x + BarWidth + 12, y + 16, 15, Ink.Text);
        }
    }

    private float DrawEntry(float x, float y, string first, string second, Func<int, int, SKColor> fill)
    {
        using var paint = new SKPaint { IsAntialias = false };
        for (int py = 0; py < 22; py++)
        {
            for (int px = 0; px < BarWidth; px++)
            {
                paint.Color = fill(px, py);
                canvas.DrawRect(x + px, y + py, 1, 1, paint);
            }
        }
        using var line = new SKPaint { Color = Ink.Line, StrokeWidth = 1, IsStroke = true, IsAntialias = true };
        canvas.DrawRect(x, y, BarWidth, 22, line);
        Lettering.Draw(canvas, first, x + BarWidth + 12, y + 10, 15, Ink.Text);
        Lettering.Draw(canvas, second, x + BarWidth + 12, y + 29, 15, Ink.Text);
        return y + 48;
    }

    /// <summary>A bar of round length, about half the panel long, true at the middle latitude of the map.</summary>
    private void DrawScaleBar(float x, float bottom)
    {
        var (length, pixels) = ScaleBar(layout, 180);
        using var dark = new SKPaint { Color = Ink.Text, IsAntialias = true };
        using var line = new SKPaint { Color = Ink.Text, StrokeWidth = 1.2f, IsStroke = true, IsAntialias = true };
        canvas.DrawRect(x, bottom - 8, pixels / 2, 8, dark);
        canvas.DrawRect(x, bottom - 8, pixels, 8, line);
        string unit = length >= 1000 ? "km" : "m";
        double shown = length >= 1000 ? length / 1000 : length;
        string Number(double v) => v.ToString("0.###", CultureInfo.InvariantCulture);
        Lettering.Draw(canvas, "0", x, bottom - 15, 14, Ink.Text, SKTextAlign.Center);
        Lettering.Draw(canvas, Number(shown / 2), x + pixels / 2, bottom - 15, 14, Ink.Text, SKTextAlign.Center);
        Lettering.Draw(canvas, $"{Number(shown)} {unit}", x + pixels - Lettering.Width(Number(shown), 14) / 2, bottom - 15, 14, Ink.Text);
        string at = $"at {Graticule.Label(layout.MiddleLatitudeDegrees, 'N', 'S', 1)}";
        Lettering.Draw(canvas, at, x, bottom + 20, 13, Ink.Quiet);
    }

    /// <summary>Length in metres of the scale bar and in pixels on the map, not above <paramref name="widestPixels"/>.</summary>
    internal static (double LengthMetres, float Pixels) ScaleBar(MapLayout layout, float widestPixels)
    {
        double length = RoundTicks.RoundBelow(layout.MetresPerPixel * widestPixels);
        return (length, (float)(length / layout.MetresPerPixel));
    }

    private void DrawNorth(float x, float y)
    {
        using var left = new SKPath();
        left.MoveTo(x, y - 22);
        left.LineTo(x - 11, y + 14);
        left.LineTo(x, y + 7);
        left.Close();
        using var right = new SKPath();
        right.MoveTo(x, y - 22);
        right.LineTo(x + 11, y + 14);
        right.LineTo(x, y + 7);
        right.Close();
        using var fill = new SKPaint { Color = Ink.Text, IsAntialias = true };
        using var line = new SKPaint { Color = Ink.Text, StrokeWidth = 1.2f, IsStroke = true, IsAntialias = true };
        canvas.DrawPath(left, fill);
        canvas.DrawPath(left, line);
        canvas.DrawPath(right, line);
        Lettering.Draw(canvas, "N", x, y + 36, 16, Ink.Text, SKTextAlign.Center, bold: true);
    }
}
