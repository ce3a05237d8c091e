using System.Globalization;
using System.Security;
using SkiaSharp;

namespace DecayAtlas.Figures.Drawing;

/// <summary>
/// A finished figure: the same chart gives the same bytes on every machine, since its typeface is embedded and nothing of the clock or
/// the system goes in.
/// </summary>
public sealed class Figure
{
    private const float PixelsPerUnit = 2;

    private readonly string _title;
    private readonly IReadOnlyList<Mark> _marks;

    internal Figure(string title, string altText, int width, int height, IReadOnlyList<Mark> marks)
    {
        (_title, AltText, Width, Height, _marks) = (title, altText, width, height, marks);
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
        using SKSurface surface = SKSurface.Create(new SKImageInfo((int)(Width * PixelsPerUnit), (int)(Height * PixelsPerUnit),
            SKColorType.Rgba8888, SKAlphaType.Opaque));
        surface.Canvas.Scale(PixelsPerUnit);
        surface.Canvas.Clear(SKColor.Parse(HouseColours.Ground));
        foreach (Mark mark in _marks)
        {
            SKColor colour = SKColor.Parse(mark.Tone.Light);
            if (mark is Words w)
            {
                Lettering.Draw(surface.Canvas, w.HasQuantities ? w.Text.Replace("*", "", StringComparison.Ordinal) : w.Text, (float)w.X,
                    (float)w.Y, w.Size, colour, w.Align, w.IsBold);
            }
            else if (mark is Shape s)
            {
                Paint(surface.Canvas, s, colour);
            }
        }

        using SKImage image = surface.Snapshot();
        using SKData data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    /// <summary>The figure as SVG of its own, with title and description for screen readers; text stays text.</summary>
    public string Svg() => string.Create(CultureInfo.InvariantCulture, $"""
        <svg xmlns="http://www.w3.org/2000/svg" role="img" width="{Width}" height="{Height}" viewBox="0 0 {Width} {Height}"
          font-family="Inter, 'Helvetica Neue', Arial, sans-serif">
        <title>{SecurityElement.Escape(_title)}</title>
        <desc>{SecurityElement.Escape(AltText)}</desc>
        <rect width="{Width}" height="{Height}" fill="{HouseColours.Ground}"/>
        {string.Join('\n', _marks.Select(m => Element(
            m, SecurityElement.Escape, m is Shape s ? s.Look.Attributes(m.Tone.Light)
                : $"fill=\"{m.Tone.Light}\" font-size=\"{((Words)m).Size}\"{(((Words)m).IsBold ? " font-weight=\"600\"" : "")}")))}
        </svg>

        """).ReplaceLineEndings("\n");

    /// <summary>The figure as part of a page, which gives it colours and letters (<see cref="HouseColours.Css"/>); without a text for
    /// those who can't see it, where the page says the same.</summary>
    /// <param name="encode">Writes text for markup.</param>
    public string Inline(Func<string, string> encode) => string.Create(CultureInfo.InvariantCulture,
        $"<svg class=\"chart\" viewBox=\"0 0 {Width} {Height}\" "
        + $"{(AltText.Length > 0 ? $"role=\"img\" aria-label=\"{encode(AltText)}\"" : "aria-hidden=\"true\"")}>")
        + string.Concat(_marks.Select(m =>
            Element(m, encode, $"class=\"{m.Tone.Name}{(m is Shape s ? " " + s.Look.Name : ((Words)m).IsBold ? " strong" : "")}\"")))
            + "</svg>";

    private static string Element(Mark mark, Func<string, string> encode, string look)
    {
        if (mark is Shape shape)
            return $"<path {look} d=\"{shape.Outline}\"/>";
        Words words = (Words)mark;
        string anchor = words.Align switch
        {
            SKTextAlign.Center => " text-anchor=\"middle\"",
            SKTextAlign.Right => " text-anchor=\"end\"",
            _ => ""
        };
        string text = words.HasQuantities
            ? string.Concat(words.Text.Split('*')
                .Select((piece, i) => i % 2 == 0 ? encode(piece) : $"<tspan font-style=\"italic\">{encode(piece)}</tspan>"))
            : encode(words.Text);
        return string.Create(CultureInfo.InvariantCulture, $"<text {look}{anchor} x=\"{words.X:0.##}\" y=\"{words.Y:0.##}\">{text}</text>");
    }

    private static void Paint(SKCanvas canvas, Shape shape, SKColor colour)
    {
        Look look = shape.Look;
        using SKPath path = SKPath.ParseSvgPathData(shape.Outline);
        using SKPaint paint = new() { IsAntialias = true };
        if (look.Fill > 0)
        {
            paint.Color = Seen(colour, look.Fill);
            canvas.DrawPath(path, paint);
        }

        if (look.Stroke == 0)
            return;
        paint.IsStroke = true;
        paint.StrokeWidth = (float)look.Stroke;
        paint.Color = look.HasHalo ? SKColor.Parse(HouseColours.Ground) : Seen(colour, look.Opacity);
        using SKPathEffect? dashes = look.Dash is null ? null
            : SKPathEffect.CreateDash([.. look.Dash.Split(' ').Select(d => float.Parse(d, CultureInfo.InvariantCulture))], 0);
        paint.PathEffect = dashes;
        canvas.DrawPath(path, paint);
    }

    private static SKColor Seen(SKColor colour, double opacity) => colour.WithAlpha((byte)Math.Round(255 * opacity));
}
