namespace DecayAtlas.Figures.Charts;

/// <summary>Single values as diamonds on one line, over where others lie.</summary>
public sealed record StripChart(string Title, string AltText, Axis Value, IReadOnlyList<double> Values) : Chart(Title, AltText)
{
    /// <summary>Where nearly all others lie.</summary>
    public (double From, double To)? Most { get; init; }

    /// <summary>Where half of them lie.</summary>
    public (double From, double To)? Half { get; init; }

    /// <summary>Their middle.</summary>
    public double? Middle { get; init; }

    /// <summary>How sure a single value is.</summary>
    public (double From, double To)? Interval { get; init; }

    /// <summary>Where there is no effect.</summary>
    public double? Reference { get; init; }

    /// <summary>Words for both ends, in place of the axis.</summary>
    public (string Low, string High)? Ends { get; init; }

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        double left = area.Left + 8, right = area.Right - 2, bottom = area.Bottom - (Ends is null ? 44 : 18),
            y = (area.Top + bottom) / 2 - (Ends is null ? 2 : 0);
        double[] all = [.. Values, .. new[] { Most?.From, Most?.To, Reference }.OfType<double>()];
        Scale x = new(Value, Value.Range(all), left, right, (int)Math.Clamp((right - left) / 48, 2, 8), Number);
        Span(Most, HouseColours.Series[0], Look.Wide, 16, 8);
        Span(Half, HouseColours.Series[0], Look.Half, Ends is null ? 26 : 16, 3);
        Upright(Middle, HouseColours.Ink, Look.Thick, 13);
        Upright(Reference, HouseColours.Soft, Look.Thin, 22);
        if (Interval is { } sure)
            sheet.Draw(HouseColours.Ink, Look.Thick, Outline.Line(x.At(sure.From), y, x.At(sure.To), y));
        foreach (double value in Values)
            sheet.Draw(HouseColours.Series[1], Look.Mark, Outline.Symbol(1, x.At(value), y, Ends is null ? 13 : 16));
        if (Ends is not { } ends)
        {
            x.DrawBelow(sheet, bottom);
            return;
        }

        sheet.Write(HouseColours.Soft, ends.Low, left, area.Bottom - 4);
        sheet.Write(HouseColours.Soft, ends.High, right, area.Bottom - 4, SKTextAlign.Right);

        void Span((double From, double To)? span, Tone tone, Look look, double height, double radius)
        {
            if (span is not var (from, to))
                return;
            double start = x.At(from);
            sheet.Draw(tone, look, Outline.Box(start, y - height / 2, Math.Max(2, x.At(to) - start), height, radius));
        }

        void Upright(double? at, Tone tone, Look look, double reach)
        {
            if (at is { } known)
                sheet.Draw(tone, look, Outline.Line(x.At(known), y - reach, x.At(known), y + reach));
        }
    }
}
