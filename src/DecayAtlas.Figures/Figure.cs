using System.Text;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>
/// A finished figure: the same chart gives the same bytes on every machine, since its typeface is embedded and nothing of the clock or
/// the system goes in.
/// </summary>
public sealed class Figure
{
    private const float PixelsPerUnit = 2;

    private readonly string _title;
    private readonly Action<SKCanvas> _paint;

    internal Figure(string title, string altText, int width, int height, Action<SKCanvas> paint)
    {
        (_title, AltText, Width, Height, _paint) = (title, altText, width, height, paint);
    }

    /// <summary>What a reader who can't see the figure is told: what is drawn, and what it shows.</summary>
    public string AltText { get; }

    /// <summary>Width in CSS pixels; a PNG has twice as many.</summary>
    public int Width { get; }

    /// <summary>Height in CSS pixels.</summary>
    public int Height { get; }

    /// <summary>The figure as PNG, two pixels for each CSS pixel.</summary>
    public byte[] Png()
    {
        using var surface = SKSurface.Create(new SKImageInfo((int)(Width * PixelsPerUnit), (int)(Height * PixelsPerUnit), SKColorType.Rgba8888, SKAlphaType.Opaque));
        surface.Canvas.Scale(PixelsPerUnit);
        _paint(surface.Canvas);
        using SKImage image = surface.Snapshot();
        using SKData data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    /// <summary>The figure as SVG with title and description for screen readers; text stays text.</summary>
    public string Svg()
    {
        using var stream = new MemoryStream();
        using (SKCanvas canvas = SKSvgCanvas.Create(new SKRect(0, 0, Width, Height), stream))
            _paint(canvas);
        return SvgText.Tidy(Encoding.UTF8.GetString(stream.ToArray()), _title, AltText, Width, Height);
    }
}
