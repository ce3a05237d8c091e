namespace DecayAtlas.Figures.Charts;

/// <summary>One bar from 0 to its value, with an interval where it has one; marked where it is the one that is spoken of.</summary>
public readonly record struct BarValue(string Name, double Value, double? Lower = null, double? Upper = null, bool IsMarked = false);

/// <summary>Horizontal bars with intervals, so that long names stay readable: shares, importances, recalls.</summary>
public sealed record BarChart(string Title, string AltText, Axis Value, IReadOnlyList<BarValue> Bars) : Chart(Title, AltText)
{
    public string NumberFormat { get; init; } = "0.00";

    /// <summary>Whether each bar fills a bag that ends where the axis does, which then isn't drawn.</summary>
    public bool AreBags { get; init; }

    public static int HeightFor(int bars) => 140 + 32 * Math.Max(bars, 2);

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        (double From, double To) range = Value.Range(Bars.SelectMany(b => new[] { 0, b.Value, b.Lower ?? b.Value, b.Upper ?? b.Value }));
        if (Value.From is null && Bars.All(b => b.Value >= 0 && (b.Lower ?? 0) >= 0))
            range.From = 0;
        string[] numbers = [.. Bars.Select(b => Number(b.Value, NumberFormat))];
        // letters of a page may be wider than ours
        double left = area.Left + 1.13 * Bars.Max(b => Lettering.Width(b.Name, MarkSheet.TextSize)) + 16,
            right = area.Right - numbers.Max(t => Lettering.Width(t, MarkSheet.TextSize, bold: true)) - 12;
        double bottom = area.Bottom - (AreBags ? 0 : 44), row = (bottom - area.Top) / Bars.Count;
        Scale x = new(Value, range, left, right, (int)Math.Clamp((right - left) / 50, 2, 8), Number);
        if (!AreBags)
            x.DrawBelow(sheet, bottom);
        for (int i = 0; i < Bars.Count; i++)
        {
            BarValue bar = Bars[i];
            double y = area.Top + (i + 0.5) * row, height = Math.Min(22, 0.62 * row), end = x.At(bar.Value), zero = x.At(0);
            sheet.Write(HouseColours.Ink, bar.Name, left - 10, y + 4, SKTextAlign.Right);
            if (AreBags)
                sheet.Draw(HouseColours.Soft, Look.Dashed, Outline.Box(left, y - height / 2, right - left, height, 6));
            sheet.Draw(HouseColours.Series[bar.IsMarked ? 1 : 0], bar.IsMarked || AreBags ? Look.Mark : Look.Bar,
                Outline.Box(Math.Min(zero, end), y - height / 2, Math.Max(1, Math.Abs(end - zero)), height, AreBags ? 6 : 2));
            if (bar is { Lower: { } lower, Upper: { } upper })
                sheet.Draw(HouseColours.Ink, Look.Reach, Outline.Line(x.At(lower), y, x.At(upper), y));
            sheet.Write(HouseColours.Ink, numbers[i], AreBags ? right + 7 : Math.Max(x.At(bar.Upper ?? bar.Value), zero) + 7, y + 4,
                isBold: true);
        }
    }
}
