using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>What the picture says in words.</summary>
internal sealed record MapWords(string Title, string Subtitle, string Caution)
{
    /// <summary>When it was measured and for which season it is mapped; under the subtitle, nothing where nobody says.</summary>
    public string Times { get; init; } = "";

    /// <summary>What the colours stand for.</summary>
    public string Quantity { get; init; } = "Decay rate k";

    public string Unit { get; init; } = "per day (d⁻¹), predicted";

    /// <summary>Why cells have no prediction.</summary>
    public string Unpredicted { get; init; } = MapRegion.Whole.Unpredicted;

    /// <summary>What the dots stand for.</summary>
    public string Dots { get; init; } = "Training site";
}

/// <summary>Draws a map: heading, frame with graticule, cells, sites, legend, scale bar, north arrow, caution.</summary>
internal static class MapPicture
{
    /// <summary>The PNG's bytes; the same input gives the same bytes.</summary>
    public static byte[] Draw(ThinnedMap raster, MapLattice lattice, MapWords words, RateScale scale, IReadOnlyList<GeoPoint> sites,
        IReadOnlyList<GeoPoint>? numbered = null, MapInset? inset = null) =>
        Draw(new ScaledCells(raster, scale), raster.Shows(), new RateKey(scale), lattice, words, sites, numbered, inset);

    /// <param name="numbered">Places to draw with numbers, from 1.</param>
    /// <param name="shows">What the legend must explain beside the key.</param>
    /// <param name="inset">A small second map; left out where the legend has no room for it.</param>
    public static byte[] Draw(IPicturedCells cells, PictureShows shows, IMapKey key, MapLattice lattice, MapWords words,
        IReadOnlyList<GeoPoint> sites, IReadOnlyList<GeoPoint>? numbered = null, MapInset? inset = null)
    {
        MapLayout layout = MapLayout.Of(lattice);
        return Png(layout, (bitmap, canvas) =>
        {
            DrawHeader(canvas, layout, words);
            CellLayer.Draw(bitmap, cells, layout);
            Graticule.Draw(canvas, layout);
            int drawn = DrawSites(canvas, layout, sites);
            NumberedPlaces.Draw(canvas, layout, numbered ?? []);
            SKRectI room = new Legend(canvas, layout, key, words).Draw(shows, drawn, numbered?.Count ?? 0);
            inset?.Draw(bitmap, canvas, layout, room);
            DrawFooter(canvas, layout, words);
        });
    }

    public static byte[] Png(MapLayout layout, Action<SKBitmap, SKCanvas> draw)
    {
        using SKBitmap bitmap = new(new SKImageInfo(layout.Width, layout.Height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (SKCanvas canvas = new(bitmap))
        {
            canvas.Clear(Ink.Paper);
            draw(bitmap, canvas);
        }
        using SKPixmap pixmap = bitmap.PeekPixels();
        using SKData png = pixmap.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.AllFilters, 6))
            ?? throw new InvalidOperationException("The PNG encoder gave nothing.");
        return png.ToArray();
    }

    private static void DrawHeader(SKCanvas canvas, MapLayout layout, MapWords words)
    {
        float width = layout.Width - 2 * MapLayout.Margin;
        (string title, float titleSize) = Lettering.Fit(words.Title, width, 34, 22, bold: true);
        Lettering.Draw(canvas, title, MapLayout.Margin, 58, titleSize, Ink.Text, bold: true);
        string[] lines = [.. new[] { words.Subtitle, words.Times }.Where(line => line.Length > 0)];
        if (lines is [var only] && Lettering.Width(only, 18) <= width)
        {
            Lettering.Draw(canvas, only, MapLayout.Margin, 88, 18, Ink.Quiet);
            return;
        }
        // what goes into a line each stays so; else both run on
        float baseline = 81, size = lines.Min(line => Lettering.Fit(line, width, 16, 12).Size);
        IEnumerable<string> set = lines.Length > 1 && lines.All(line => Lettering.Width(line, size) <= width) ? lines
            : Lettering.Wrap(string.Join(" · ", lines), width, size = 14).Take(2);
        foreach (string line in set)
        {
            (string text, float fitted) = Lettering.Fit(line, width, size, 11);
            Lettering.Draw(canvas, text, MapLayout.Margin, baseline, fitted, Ink.Quiet);
            baseline += 21;
        }
    }

    private static int DrawSites(SKCanvas canvas, MapLayout layout, IReadOnlyList<GeoPoint> sites)
    {
        int drawn = 0;
        canvas.Save();
        canvas.ClipRect(layout.Frame);
        foreach (GeoPoint site in sites)
        {
            if (layout.At(site) is not { } at || !layout.Frame.Contains((int)at.X, (int)at.Y))
                continue;
            DrawSite(canvas, at.X, at.Y);
            drawn++;
        }
        canvas.Restore();
        return drawn;
    }

    public static void DrawSite(SKCanvas canvas, float x, float y)
    {
        using SKPaint halo = Ink.Fill(SKColors.White);
        using SKPaint dot = Ink.Fill(new SKColor(0x16, 0x16, 0x16));
        canvas.DrawCircle(x, y, 3.9f, halo);
        canvas.DrawCircle(x, y, 2.6f, dot);
    }

    private static void DrawFooter(SKCanvas canvas, MapLayout layout, MapWords words)
    {
        float width = layout.Width - 2 * MapLayout.Margin;
        float y = layout.Height - 48;
        IReadOnlyList<string> lines = Lettering.Wrap(words.Caution, width, 15);
        string projection = layout.Lattice.Projection.IsGeographic
            ? $"Equirectangular projection, true at {Graticule.Label(layout.MiddleLatitudeDegrees, 'N', 'S', 1)}. WGS 84."
            : $"{layout.Lattice.Projection.Name}. The scale bar is true in the middle of the map.";
        foreach (string line in lines)
        {
            Lettering.Draw(canvas, line, MapLayout.Margin, y - (lines.Count - 1) * 20, 15, Ink.Caution);
            y += 20;
        }
        Lettering.Draw(canvas, projection, MapLayout.Margin, layout.Height - 24, 13, Ink.Quiet);
    }
}
