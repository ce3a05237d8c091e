using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>What a picture of a grid says in words: what it is, which layer of which file.</summary>
/// <param name="Unit">Empty for a pure number or a class.</param>
public sealed record GridPictureWords(string Title, string Subtitle, string Unit, bool IsClass);

/// <summary>Draws a grid small, with the sites on it, so that a person sees at once whether it was understood.</summary>
public static class GridPicture
{
    /// <summary>The PNG's bytes; the same input gives the same bytes. Cost is bounded, see <see cref="GridRaster"/>.</summary>
    /// <exception cref="GridException">The file is damaged, or lies nowhere on the ground.</exception>
    public static byte[] Draw(Grid grid, GridPictureWords words, IReadOnlyList<GeoPoint> sites)
    {
        BoundingBox extent = ExtentOf(grid);
        MapLayout layout = MapLayout.Of(MapLattice.OfBox(extent, 1, 1));
        GridRaster raster = GridRaster.Of(grid, extent, layout.Frame.Width, layout.Frame.Height);
        IGridColours colours = words.IsClass ? new ClassColours(raster.Values) : new ValueColours(raster.Values);
        return MapPicture.Png(layout, (bitmap, canvas) =>
        {
            DrawWords(canvas, layout, words);
            DrawCells(bitmap, layout, raster, colours);
            Graticule.Draw(canvas, layout);
            int drawn = DrawSites(canvas, layout, sites);
            DrawLegend(canvas, layout, words, colours, raster, drawn, sites.Count);
        });
    }

    private static BoundingBox ExtentOf(Grid grid)
    {
        GroundExtent ground = grid.Extent();
        if (!(ground.EastDegrees > ground.WestDegrees && ground.NorthDegrees > ground.SouthDegrees))
        {
            throw new GridException($"{grid.Path} lies nowhere on the ground, so that it cannot be drawn; check its reference system "
                + "and its corner coordinates.");
        }
        // A grid from 0 to 360 is drawn from -180 to 180, as maps are.
        return grid.GoesRoundTheEarth || ground.EastDegrees - ground.WestDegrees >= 360
            ? new BoundingBox(-180, ground.SouthDegrees, 180, ground.NorthDegrees)
            : new BoundingBox(ground.WestDegrees, ground.SouthDegrees, ground.EastDegrees, ground.NorthDegrees);
    }

    private static void DrawWords(SKCanvas canvas, MapLayout layout, GridPictureWords words)
    {
        float width = layout.Width - 2 * MapLayout.Margin;
        (string title, float titleSize) = Lettering.Fit(words.Title, width, 34, 18, bold: true);
        Lettering.Draw(canvas, title, MapLayout.Margin, 58, titleSize, Ink.Text, bold: true);
        (string subtitle, float size) = Lettering.Fit(words.Subtitle, width, 18, 11);
        Lettering.Draw(canvas, subtitle, MapLayout.Margin, 88, size, Ink.Quiet);
        Lettering.Draw(canvas, "A look at a file, thinned to the picture; not a map to read values from.",
            MapLayout.Margin, layout.Height - 32, 14, Ink.Quiet);
    }

    private static void DrawCells(SKBitmap bitmap, MapLayout layout, GridRaster raster, IGridColours colours)
    {
        Span<byte> pixels = bitmap.GetPixelSpan();
        for (int y = 0; y < layout.Frame.Height; y++)
        {
            int row = (int)((y + 0.5) / layout.Frame.Height * raster.Rows);
            int at = (layout.Frame.Top + y) * bitmap.RowBytes + layout.Frame.Left * 4;
            for (int x = 0; x < layout.Frame.Width; x++, at += 4)
            {
                double value = raster.At((int)((x + 0.5) / layout.Frame.Width * raster.Columns), row);
                SKColor colour = double.IsNaN(value) ? Ink.NoData : colours.Of(value);
                (pixels[at], pixels[at + 1], pixels[at + 2], pixels[at + 3]) = (colour.Red, colour.Green, colour.Blue, byte.MaxValue);
            }
        }
    }

    private static int DrawSites(SKCanvas canvas, MapLayout layout, IReadOnlyList<GeoPoint> sites)
    {
        int drawn = 0;
        foreach (GeoPoint site in sites)
        {
            if (new[] { 0, 360, -360 }.Select(turn => layout.At(site with { LongitudeDegrees = site.LongitudeDegrees + turn }))
                .FirstOrDefault(p => p is { } at && layout.Frame.Contains((int)at.X, (int)at.Y)) is not { } found)
            {
                continue;
            }

            MapPicture.DrawSite(canvas, found.X, found.Y);
            drawn++;
        }

        return drawn;
    }

    private static void DrawLegend(SKCanvas canvas, MapLayout layout, GridPictureWords words, IGridColours colours, GridRaster raster,
        int drawn, int sites)
    {
        float x = layout.Panel.Left, top = layout.Panel.Top;
        Lettering.Draw(canvas, words.IsClass ? "Classes" : words.Unit.Length == 0 ? "Values" : $"Values, {words.Unit}", x, top + 15, 19,
            Ink.Text, bold: true);
        float bottom = colours.DrawLegend(canvas, x, top + 34, layout.PanelBelow);
        (float entryX, float entryY) = layout.PanelBelow ? (x + ColourBar.Length + 110, top + 20f) : (x, bottom + 28);
        int missing = raster.Values.Count(double.IsNaN);
        Entry(Invariant($"no value: {missing / (double)raster.Values.Count:0.0 %}"), (cx, cy) => Swatch(canvas, cx, cy, Ink.NoData));
        if (sites > 0)
            Entry($"site ({drawn} of {sites})", (cx, cy) => MapPicture.DrawSite(canvas, cx + ColourBar.Thickness / 2f, cy + 11));

        void Entry(string text, Action<float, float> mark)
        {
            mark(entryX, entryY);
            Lettering.Draw(canvas, text, entryX + ColourBar.Thickness + 12, entryY + 16, 15, Ink.Text);
            entryY += 34;
        }
    }

    internal static void Swatch(SKCanvas canvas, float x, float y, SKColor colour)
    {
        using SKPaint fill = new() { Color = colour, IsAntialias = false };
        using SKPaint line = Ink.Stroke(Ink.Line, 1);
        canvas.DrawRect(x, y, ColourBar.Thickness, 22, fill);
        canvas.DrawRect(x, y, ColourBar.Thickness, 22, line);
    }
}
