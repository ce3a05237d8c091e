using System.Globalization;
using System.Security;

namespace DecayAtlas.Figures.Drawing;

/// <summary>A finished figure: the same chart gives the same bytes on every machine, since its typeface is embedded and nothing of the
/// clock or the system goes in.</summary>
public sealed class Figure
{
    private const float PixelsPerUnit = 2;

    private readonly string _title;
    private readonly IReadOnlyList<Mark> _marks;

    internal Figure(string title, string altText, int width, int height, IReadOnlyList<Mark> marks) =>
        (_title, AltText, Width, Height, _marks) = (title, altText, width, height, marks);

    /// <summary>What a reader who can't see the figure is told: what is drawn, and what it shows.</summary>
    public string AltText { get; }

    /// <summary>Width in CSS pixels; a PNG has twice as many.</summary>
    public int Width { get; }

    public int Height { get; }

    /// <summary>The figure as PNG, two pixels for each CSS pixel.</summary>
    public byte[] Png()
    {
        SKImageInfo size = new((int)(Width * PixelsPerUnit), (int)(Height * PixelsPerUnit), SKColorType.Rgba8888, SKAlphaType.Opaque);
        using SKSurface surface = SKSurface.Create(size);
        surface.Canvas.Scale(PixelsPerUnit);
        surface.Canvas.Clear(SKColor.Parse(HouseColours.Ground.Light));
        foreach (Mark mark in _marks)
        {
            SKColor colour = SKColor.Parse(mark.Tone.Light);
            if (mark is Shape shape)
            {
                Paint(surface.Canvas, shape, colour);
                continue;
            }

            Words words = (Words)mark;
            string text = words.HasQuantities ? words.Text.Replace("*", "", StringComparison.Ordinal) : words.Text;
            Lettering.Draw(surface.Canvas, text, (float)words.X, (float)words.Y, words.Size, colour, words.Align, words.IsBold);
        }

        using SKImage image = surface.Snapshot();
        using SKData data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    /// <summary>The figure as SVG of its own, with title and description for screen readers; text stays text. Its colours are those of the
    /// day; on a screen that asks for the night, those of the night.</summary>
    public string Svg() => Invariant($"""
        <svg xmlns="http://www.w3.org/2000/svg" role="img" width="{Width}" height="{Height}" viewBox="0 0 {Width} {Height}"
          font-family="Inter, 'Helvetica Neue', Arial, sans-serif">
        <title>{SecurityElement.Escape(_title)}</title>
        <desc>{SecurityElement.Escape(AltText)}</desc>
        <style>{HouseColours.SvgCss}</style>
        <rect width="{Width}" height="{Height}" {Look.Bar.Attributes(HouseColours.Ground)}/>
        {string.Join('\n', _marks.Select(m => Element(m, SecurityElement.Escape, shape => shape.Look.Attributes(shape.Tone),
            words => $"class=\"f-{words.Tone.Name}\" fill=\"{words.Tone.Light}\" font-size=\"{words.Size}\""
                + (words.IsBold ? " font-weight=\"600\"" : ""))))}
        </svg>

        """).ReplaceLineEndings("\n");

    /// <summary>The figure as part of a page, which gives it colours and letters (<see cref="HouseColours.Css"/>); without a text for those
    /// who can't see it, where the page says the same.</summary>
    /// <param name="encode">Writes text for markup.</param>
    /// <param name="kind">A further class.</param>
    public string Inline(Func<string, string> encode, string kind = "")
    {
        string told = AltText.Length > 0 ? $"role=\"img\" aria-label=\"{encode(AltText)}\"" : "aria-hidden=\"true\"";
        IEnumerable<string> elements = _marks.Select(m => Element(m, encode,
            shape => $"class=\"{shape.Tone.Name} {shape.Look.Name}\"",
            words => $"class=\"{words.Tone.Name}{(words.IsBold ? " strong" : "")}\""));
        string named = $"chart {kind}".TrimEnd();
        return Invariant($"<svg class=\"{named}\" viewBox=\"0 0 {Width} {Height}\" {told}>{string.Concat(elements)}</svg>");
    }

    private static string Element(Mark mark, Func<string, string> encode, Func<Shape, string> lookOf, Func<Words, string> letteringOf)
    {
        if (mark is Shape shape)
            return $"<path {lookOf(shape)} d=\"{shape.Outline}\"/>";
        Words words = (Words)mark;
        string anchor = words.Align switch
        {
            SKTextAlign.Center => " text-anchor=\"middle\"",
            SKTextAlign.Right => " text-anchor=\"end\"",
            _ => ""
        };
        string text = words.HasQuantities
            ? string.Concat(words.Text.Split('*').Select(encode)
                .Select((piece, i) => i % 2 == 0 ? piece : $"<tspan font-style=\"italic\">{piece}</tspan>"))
            : encode(words.Text);
        return Invariant($"<text {letteringOf(words)}{anchor} x=\"{words.X:0.##}\" y=\"{words.Y:0.##}\">{text}</text>");
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
        paint.Color = look.HasHalo ? SKColor.Parse(HouseColours.Ground.Light) : Seen(colour, look.Opacity);
        using SKPathEffect? dashes = look.Dash is null ? null
            : SKPathEffect.CreateDash([.. look.Dash.Split(' ').Select(d => float.Parse(d, CultureInfo.InvariantCulture))], 0);
        paint.PathEffect = dashes;
        canvas.DrawPath(path, paint);
    }

    private static SKColor Seen(SKColor colour, double opacity) => colour.WithAlpha((byte)Math.Round(255 * opacity));
}
