using SkiaSharp;

namespace DecayAtlas.Figures.Drawing;

/// <summary>Text in the embedded fonts. Metrics are taken unhinted so that a line is as long on every machine.</summary>
public static class Lettering
{
    private static readonly SKTypeface Regular = Load("Inter-Regular.otf");
    private static readonly SKTypeface SemiBold = Load("Inter-SemiBold.otf");

    public static float Width(string text, float size, bool bold = false)
    {
        using SKFont font = Font(size, bold);
        return font.MeasureText(text);
    }

    public static void Draw(SKCanvas canvas, string text, float x, float baseline, float size, SKColor colour,
        SKTextAlign align = SKTextAlign.Left, bool bold = false)
    {
        using SKFont font = Font(size, bold);
        using SKPaint paint = new() { Color = colour, IsAntialias = true };
        canvas.DrawText(text, x, baseline, align, font, paint);
    }

    /// <summary>The largest size up to <paramref name="size"/> at which the text fits; below <paramref name="smallest"/> the text is cut
    /// with an ellipsis.</summary>
    public static (string Text, float Size) Fit(string text, float width, float size, float smallest, bool bold = false)
    {
        float fits = Math.Min(size, size * width / Math.Max(1, Width(text, size, bold)));
        if (fits >= smallest)
            return (text, fits);
        int length = text.Length;
        while (length > 1 && Width(text[..length].TrimEnd() + "…", smallest, bold) > width)
            length--;
        return (text[..length].TrimEnd() + "…", smallest);
    }

    /// <summary>Breaks a text between words into lines that fit.</summary>
    public static IReadOnlyList<string> Wrap(string text, float width, float size, bool bold = false)
    {
        List<string> lines = new();
        string line = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && Width(longer, size, bold) > width)
            {
                lines.Add(line);
                line = word;
            }
            else
            {
                line = longer;
            }
        }
        if (line.Length > 0)
            lines.Add(line);
        return lines;
    }

    private static SKFont Font(float size, bool bold) => new(bold ? SemiBold : Regular, size)
    {
        Subpixel = true,
        Hinting = SKFontHinting.None,
        Edging = SKFontEdging.Antialias,
        LinearMetrics = true,
    };

    internal static SKTypeface Load(string name)
    {
        using Stream stream = typeof(Lettering).Assembly.GetManifestResourceStream(name)!;
        return SKTypeface.FromStream(stream);
    }
}
