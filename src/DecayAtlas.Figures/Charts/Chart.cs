using System.Globalization;

namespace DecayAtlas.Figures.Charts;

/// <summary>A chart as data; <see cref="Draw"/> makes the figure, for a file or for a page. Title, note and legend stand above it, so that
/// nothing lies over the data; a chart without them, as in a page that says them itself, begins at the top.</summary>
/// <param name="Title">What is shown, best as the finding itself.</param>
/// <param name="AltText">For readers who can't see it: what is drawn, and what it shows.</param>
public abstract record Chart(string Title, string AltText)
{
    private const float Edge = 16, TitleSize = 17, NoteSize = 13;

    /// <summary>A sentence beneath the title: what may be concluded, how many values.</summary>
    public string? Note { get; init; }

    /// <summary>In CSS pixels, as the height is.</summary>
    public int Width { get; init; } = 720;

    public int Height { get; init; } = 480;

    /// <summary>Whether names of rows stand above them.</summary>
    public bool IsNarrow { get; init; }

    /// <summary>The chart for a narrow screen, as high as it then needs.</summary>
    public virtual Chart Narrow(int width) => this with { Width = width, IsNarrow = true };

    /// <summary>How numbers are written, for pages in other languages.</summary>
    public NumberWriter Number { get; init; } = (value, format) => Signed(value.ToString(format, CultureInfo.InvariantCulture));

    public Figure Draw()
    {
        MarkSheet sheet = new();
        double y = Title.Length > 0 ? Edge : 0;
        foreach (string line in Lettering.Wrap(Title, Width - 2 * Edge, TitleSize, bold: true))
            sheet.Write(HouseColours.Ink, line, Edge, y += TitleSize + 4, size: TitleSize, isBold: true);
        y += Note is null ? 0 : 3;
        foreach (string line in Lettering.Wrap(Note ?? "", Width - 2 * Edge, NoteSize))
            sheet.Write(HouseColours.Soft, line, Edge, y += NoteSize + 4, size: NoteSize);
        y = DrawLegend(sheet, y);
        int margin = Title.Length > 0 ? 10 : 0;
        DrawBody(sheet, new Area(Title.Length > 0 ? Edge : 4, y + margin, Width - (Title.Length > 0 ? Edge : 12), Height - margin));
        return new Figure(Title, AltText, Width, Height, sheet.Marks);
    }

    internal virtual IEnumerable<LegendKey> Legend => [];

    /// <summary>The chart as one of several, whose axes its neighbours to the left and below tell.</summary>
    internal virtual Chart Inner(double? roomOfNumbers, bool hasNumbersBelow) => this;

    /// <summary>Draws the chart without its header.</summary>
    internal abstract void DrawBody(MarkSheet sheet, Area area);

    // a value that rounds to none has no sign
    private static string Signed(string number) =>
        number.Any(c => c is >= '1' and <= '9') ? number.Replace('-', '−') : number.TrimStart('-');

    private double DrawLegend(MarkSheet sheet, double y)
    {
        // letters of a page may be wider than ours, and its charts begin at its edge
        double left = Title.Length > 0 ? Edge : 4, x = left;
        LegendKey[] keys = [.. Legend];
        y += keys.Length > 0 ? 22 : 0;
        foreach (LegendKey key in keys)
        {
            double needs = 24 + RowName.Width(key.Text) + 10;
            if (x > left && x + needs > Width - left)
                (x, y) = (left, y + 18);
            key.DrawSign(sheet, x, y - 4.3);
            sheet.Write(HouseColours.Ink, key.Text, x + 24, y);
            x += needs;
        }

        return y;
    }
}

/// <summary>A sign of the legend, which is eighteen wide round a middle line, with its words.</summary>
internal sealed record LegendKey(string Text, Action<MarkSheet, double, double> DrawSign);
