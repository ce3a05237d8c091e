namespace DecayAtlas.Figures.Charts;

/// <summary>Single values as diamonds on one line, over where others lie.</summary>
public sealed record StripChart(string Title, string AltText, Axis Value, IReadOnlyList<double> Values) : Chart(Title, AltText)
{
    private const double NameRow = 15, WidestName = 96;
    private const int MostNameRows = 4;

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

    /// <summary>What each value is of, written above it where there is room.</summary>
    public IReadOnlyList<string> Names { get; init; } = [];

    /// <summary>The chart with room for the names above its values.</summary>
    public StripChart WithRoom() => this with { Height = Height + (int)(NameRow * Named(ScaleOf(new(4, 0, Width - 12, Height))).Rows) };

    public override Chart Narrow(int width)
    {
        int rows = Named(ScaleOf(new(4, 0, Width - 12, Height))).Rows;
        StripChart bare = this with { Width = width, IsNarrow = true, Height = Height - (int)(NameRow * rows) };
        return bare.WithRoom();
    }

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        Scale x = ScaleOf(area);
        (IReadOnlyList<(string Name, double At, double Middle, int Row)> names, int rows) = Named(x);
        double left = area.Left + 8, right = area.Right - 2, bottom = area.Bottom - (Ends is null ? 44 : 18);
        double top = area.Top + NameRow * rows, y = (top + bottom) / 2 - (Ends is null ? 2 : 0);
        Span(Most, HouseColours.Series[0], Look.Wide, 16, 8);
        Span(Half, HouseColours.Series[0], Look.Half, Ends is null ? 26 : 16, 3);
        Upright(Middle, HouseColours.Ink, Look.Thick, 13);
        Upright(Reference, HouseColours.Soft, Look.Thin, 22);
        if (Interval is { } sure)
            sheet.Draw(HouseColours.Ink, Look.Thick, Outline.Line(x.At(sure.From), y, x.At(sure.To), y));
        foreach ((string name, double at, double middle, int row) in names)
        {
            double below = top - NameRow * row;
            sheet.Draw(HouseColours.Soft, Look.Thin, Outline.Line(middle, below, at, y - 7));
            sheet.Write(HouseColours.Ink, name, middle, below - 4, SKTextAlign.Center);
        }

        foreach (double value in Values)
        {
            sheet.Draw(HouseColours.Series[HouseColours.Own], Look.Mark,
                Outline.Symbol(1, x.At(value), y, Ends is null ? 13 : 16));
        }

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

    private Scale ScaleOf(Area area)
    {
        double left = area.Left + 8, right = area.Right - 2;
        double[] all = [.. Values, .. new[] { Most?.From, Most?.To, Reference }.OfType<double>()];
        return new Scale(Value, Value.Range(all), left, right, (int)Math.Clamp((right - left) / 48, 2, 8), Number);
    }

    /// <summary>Names from the left, each in the lowest row where it stands free; those that find none are left out.</summary>
    private (IReadOnlyList<(string Name, double At, double Middle, int Row)> Names, int Rows) Named(Scale x)
    {
        double[] ends = [.. Enumerable.Repeat(double.NegativeInfinity, MostNameRows)];
        List<(string Name, double At, double Middle, int Row)> placed = [];
        foreach ((string name, double at) in Names.Zip(Values, (name, value) => (name, x.At(value))).OrderBy(n => n.Item2)
            .ThenBy(n => n.name, StringComparer.Ordinal))
        {
            (string text, _) = Lettering.Fit(name, (float)WidestName, MarkSheet.TextSize, MarkSheet.TextSize);
            double half = RowName.Width(text) / 2, middle = Math.Clamp(at, Math.Min(half, Width - half), Width - half - 4);
            if (Array.FindIndex(ends, end => end + 8 < middle - half) is >= 0 and int row)
            {
                ends[row] = middle + half;
                // no name lies on the way from a higher one to its value
                for (int i = 0; i < placed.Count; i++)
                {
                    double over = placed[i].Middle + RowName.Width(placed[i].Name) / 2 - at + 4;
                    if (placed[i].Row < row && over > 0)
                        placed[i] = placed[i] with { Middle = placed[i].Middle - over };
                }

                placed.Add((text, at, middle, row));
            }
        }

        return (placed, placed.Count == 0 ? 0 : placed.Max(p => p.Row) + 1);
    }
}
