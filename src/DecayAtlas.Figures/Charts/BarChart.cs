namespace DecayAtlas.Figures.Charts;

/// <summary>One bar from 0 to its value, with an interval where it has one; marked where it is the one that is spoken of.</summary>
public readonly record struct BarValue(string Name, double Value, double? Lower = null, double? Upper = null, bool IsMarked = false);

/// <summary>Horizontal bars with intervals, so that long names stay readable: shares, importances, recalls. Where one is marked the others
/// are pale.</summary>
public sealed record BarChart(string Title, string AltText, Axis Value, IReadOnlyList<BarValue> Bars) : Chart(Title, AltText)
{
    private const double NarrowRow = 24;

    public string NumberFormat { get; init; } = "0.00";

    /// <summary>Whether each bar fills a bag that ends where the axis does, which then isn't drawn; of bags the marked are of the fast
    /// litter.</summary>
    public bool AreBags { get; init; }

    public static int HeightFor(int bars) => 140 + 32 * Math.Max(bars, 2);

    public override Chart Narrow(int width)
    {
        int lines = Bars.Sum(b => RowName.Lines(b.Name, width - 34 - WidestNumber()).Count);
        return this with { Width = width, IsNarrow = true, Height = (int)(lines * RowName.LineHeight + Bars.Count * NarrowRow + 48) };
    }

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        (double From, double To) range = Value.Range(Bars.SelectMany(b => new[] { 0, b.Value, b.Lower ?? b.Value, b.Upper ?? b.Value }));
        if (Value.From is null && Bars.All(b => b.Value >= 0 && (b.Lower ?? 0) >= 0))
            range.From = 0;
        double widest = WidestNumber(), left = area.Left + (IsNarrow ? 10 : Bars.Max(b => RowName.Width(b.Name)) + 16),
            right = area.Right - (IsNarrow ? 0 : widest + 12), bottom = area.Bottom - (AreBags ? 0 : 44);
        Scale x = new(Value, range, left, right, (int)Math.Clamp((right - left) / 50, 2, 8), Number);
        if (!AreBags)
            x.DrawBelow(sheet, bottom);
        double top = area.Top, row = (bottom - top) / Bars.Count;
        bool isOneMarked = !AreBags && Bars.Any(b => b.IsMarked);
        foreach (BarValue bar in Bars)
        {
            string number = Number(bar.Value, NumberFormat);
            double y, height = IsNarrow ? 13 : Math.Min(22, 0.62 * row), end = x.At(bar.Value), zero = x.At(0);
            if (IsNarrow)
            {
                double below = RowName.Write(sheet, bar.Name, left, top, area.Width - widest - 18);
                sheet.Write(HouseColours.Ink, number, area.Right, below - 3, SKTextAlign.Right, isBold: true);
                (y, top) = (below + 4 + height / 2, below + NarrowRow);
            }
            else
            {
                (y, top) = (top + row / 2, top + row);
                sheet.Write(HouseColours.Ink, bar.Name, left - 10, y + 4, SKTextAlign.Right);
                sheet.Write(HouseColours.Ink, number, AreBags ? right + 7 : Math.Max(x.At(bar.Upper ?? bar.Value), zero) + 7, y + 4,
                    isBold: true);
            }

            if (AreBags)
                sheet.Draw(HouseColours.Soft, Look.Dashed, Outline.Box(left, y - height / 2, right - left, height, 6));
            sheet.Draw(HouseColours.Series[AreBags && bar.IsMarked ? HouseColours.Fast : HouseColours.Slow],
                AreBags ? Look.Mark : isOneMarked && !bar.IsMarked ? Look.Half : Look.Bar,
                Outline.Box(Math.Min(zero, end), y - height / 2, Math.Max(1, Math.Abs(end - zero)), height, AreBags ? 6 : 2));
            if (bar is { Lower: { } lower, Upper: { } upper })
            {
                string interval = Outline.Line(x.At(lower), y, x.At(upper), y);
                sheet.Draw(HouseColours.Ink, Look.Halo, interval);
                sheet.Draw(HouseColours.Ink, Look.Reach, interval);
            }
        }
    }

    private double WidestNumber() => Bars.Max(b => Lettering.Width(Number(b.Value, NumberFormat), MarkSheet.TextSize, bold: true));
}
