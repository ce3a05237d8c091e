namespace DecayAtlas.Figures.Drawing;

/// <summary>Text in the embedded fonts. Metrics are taken unhinted so that a line is as long on every machine.</summary>
public static class Lettering
{
    private static readonly SKTypeface Regular = Load("Inter-Regular.otf"), SemiBold = Load("Inter-SemiBold.otf");

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

    public static IReadOnlyList<string> Wrap(string text, float width, float size, bool bold = false)
    {
        List<string> lines = [];
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (lines.Count > 0 && $"{lines[^1]} {word}" is var longer && Width(longer, size, bold) <= width)
                lines[^1] = longer;
            else
                lines.Add(word);
        }

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
