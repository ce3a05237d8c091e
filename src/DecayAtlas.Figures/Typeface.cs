using ScottPlot;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>The embedded typeface, for the plotting library and for our own headers; no font of the machine is ever used.</summary>
internal sealed class Typeface : IFontResolver
{
    public const string Name = "Inter";

    private static readonly SKTypeface Regular = Load("Inter-Regular.otf");
    private static readonly SKTypeface SemiBold = Load("Inter-SemiBold.otf");
    private static readonly Lock Installing = new();
    private static bool _isInstalled;

    private Typeface()
    {
    }

    /// <summary>Tells the plotting library, once.</summary>
    public static void Install()
    {
        lock (Installing)
        {
            if (_isInstalled)
                return;
            Fonts.FontResolvers.Insert(0, new Typeface());
            Fonts.Default = Name;
            _isInstalled = true;
        }
    }

    public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
        CreateTypeface(fontName, weight >= FontWeight.SemiBold, false);

    // the library disposes what it is given, so that each caller has its own
    public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => Load(bold ? "Inter-SemiBold.otf" : "Inter-Regular.otf");

    public static float Width(string text, float size, bool bold = false)
    {
        using SKFont font = FontOf(size, bold);
        return font.MeasureText(text);
    }

    public static void Draw(SKCanvas canvas, string text, float x, float baseline, float size, string colour, bool bold = false, SKTextAlign align = SKTextAlign.Left)
    {
        using SKFont font = FontOf(size, bold);
        using var paint = new SKPaint { Color = HouseStyle.SkColour(colour), IsAntialias = true };
        canvas.DrawText(text, x, baseline, align, font, paint);
    }

    /// <summary>Breaks a text between words into lines that fit.</summary>
    public static IReadOnlyList<string> Wrap(string text, float width, float size, bool bold = false)
    {
        var lines = new List<string>();
        string line = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && Width(longer, size, bold) > width)
            {
                lines.Add(line);
                longer = word;
            }

            line = longer;
        }

        return line.Length > 0 ? [.. lines, line] : lines;
    }

    private static SKFont FontOf(float size, bool bold) => new(bold ? SemiBold : Regular, size)
    {
        Subpixel = true,
        Hinting = SKFontHinting.None,
        Edging = SKFontEdging.Antialias,
        LinearMetrics = true,
    };

    private static SKTypeface Load(string name)
    {
        using Stream stream = typeof(Typeface).Assembly.GetManifestResourceStream(name)!;
        return SKTypeface.FromStream(stream);
    }
}
