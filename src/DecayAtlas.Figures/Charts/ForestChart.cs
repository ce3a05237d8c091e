namespace DecayAtlas.Figures.Charts;

/// <summary>One estimate with its interval.</summary>
/// <param name="Lower">Lower end; missing where there is no interval.</param>
/// <param name="IsStrong">Whether it is drawn in colour, for example since its interval excludes the reference.</param>
public readonly record struct ForestRow(string Name, double Value, double? Lower, double? Upper, bool IsStrong = true);

/// <summary>Estimates with intervals, one a row, beside a line of no effect.</summary>
public sealed record ForestChart(string Title, string AltText, Axis Value, IReadOnlyList<ForestRow> Rows) : Chart(Title, AltText)
{
    private const double NarrowRow = 20;

    /// <summary>Where there is no effect: 1 for ratios, 0 for differences.</summary>
    public double? Reference { get; init; }

    /// <summary>What the numbers on the right are; nothing is written where it is missing.</summary>
    public string? NumbersHeading { get; init; }

    public string NumberFormat { get; init; } = "0.00";

    public static int HeightFor(int rows) => 140 + 26 * Math.Max(rows, 2);

    public override Chart Narrow(int width)
    {
        int lines = Rows.Sum(r => RowName.Lines(r.Name, width - 32 - WidestNumber()).Count);
        return this with { Width = width, IsNarrow = true, Height = (int)(lines * RowName.LineHeight + Rows.Count * NarrowRow + 70) };
    }

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        double top = area.Top + (NumbersHeading is null ? 0 : 20), widest = WidestNumber();
        double left = area.Left + (IsNarrow ? 8 : Rows.Max(r => RowName.Width(r.Name)) + 20),
            right = area.Right - (IsNarrow ? 8 : widest + 20);
        double bottom = area.Bottom - 44, row = (bottom - top) / Rows.Count;
        (double From, double To) range = Value.Range(Rows.SelectMany(r => new[] { r.Value, r.Lower ?? r.Value, r.Upper ?? r.Value })
            .Concat(Reference is { } zero ? [zero] : []));
        Scale x = new(Value, range, left, right, (int)Math.Clamp((right - left) / 48, 2, 8), Number);
        x.DrawBelow(sheet, bottom, IsNarrow ? null : top);
        if (NumbersHeading is { } heading)
            sheet.Write(HouseColours.Soft, heading, area.Right, area.Top + 12, SKTextAlign.Right);
        if (Reference is { } reference && !IsNarrow)
            sheet.Draw(HouseColours.Soft, Look.Dashed, Outline.Line(x.At(reference), top, x.At(reference), bottom));
        foreach (ForestRow shown in Rows)
        {
            double y;
            if (IsNarrow)
            {
                double below = RowName.Write(sheet, shown.Name, area.Left + 4, top, area.Width - widest - 16);
                sheet.Write(HouseColours.Soft, Text(shown), area.Right, below - 3, SKTextAlign.Right);
                (y, top) = (below + 8, below + NarrowRow);
                DrawRow(sheet, x, below + 1, top - 3);
            }
            else
            {
                (y, top) = (top + row / 2, top + row);
                sheet.Write(HouseColours.Ink, shown.Name, left - 10, y + 4, SKTextAlign.Right);
                sheet.Write(HouseColours.Soft, Text(shown), area.Right, y + 4, SKTextAlign.Right);
            }

            if (!x.CanShow(shown.Value))
                continue;
            Tone tone = shown.IsStrong ? HouseColours.Series[0] : HouseColours.Soft;
            if (shown is { Lower: { } lower, Upper: { } upper } && x.CanShow(lower) && x.CanShow(upper))
                sheet.Draw(tone, Look.Curve, Outline.Line(x.At(lower), y, x.At(upper), y));
            sheet.Draw(tone, Look.Mark, Outline.Symbol(0, x.At(shown.Value), y, 10));
        }
    }

    /// <summary>What values are held against, beside one row: names stand between the rows of a narrow chart, and no line crosses a
    /// name.</summary>
    private void DrawRow(MarkSheet sheet, Scale x, double from, double to)
    {
        foreach ((double value, _) in x.Ticks)
            sheet.Draw(HouseColours.Grid, Look.Faint, Outline.Line(x.At(value), from, x.At(value), to));
        if (Reference is { } reference)
            sheet.Draw(HouseColours.Soft, Look.Dashed, Outline.Line(x.At(reference), from, x.At(reference), to));
    }

    private double WidestNumber() => 1.05 * Rows.Select(Text).Append(NumbersHeading ?? "")
        .Max(t => Lettering.Width(t, MarkSheet.TextSize));

    private string Text(ForestRow row) => Number(row.Value, NumberFormat)
        + (row is { Lower: { } lower, Upper: { } upper } ? $"  [{Number(lower, NumberFormat)}, {Number(upper, NumberFormat)}]" : "");
}
