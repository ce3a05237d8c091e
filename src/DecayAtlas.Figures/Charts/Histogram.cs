namespace DecayAtlas.Figures.Charts;

/// <summary>How often values fall where: bars of one width over the middle 99 %, what lies beyond in the end bars, the median
/// marked.</summary>
/// <param name="Value">The axis of the values; on a logarithmic one, bars are of one width in the logarithm.</param>
public sealed record Histogram(string Title, string AltText, Axis Value, IReadOnlyList<double> Values) : Chart(Title, AltText)
{
    public string Counted { get; init; } = "count";

    public (string Name, string Format) Median { get; init; } = ("median", "G3");

    /// <summary>From where to where each bar reaches, and how many values it holds.</summary>
    public IReadOnlyList<(double From, double To, int Count)> Bars()
    {
        double[] places = [.. Values.Where(Value.CanShow).Select(Value.Place).Order()];
        if (places.Length == 0)
            return [];
        double start = Quantiles.Of(places, 0.005), end = Quantiles.Of(places, 0.995);
        if (!(end > start))
            (start, end) = (start - Math.Max(Math.Abs(start), 1) * 0.1, end + Math.Max(Math.Abs(end), 1) * 0.1);
        int[] counts = new int[Math.Clamp((int)Math.Ceiling(Math.Sqrt(places.Length)), 5, 24)];
        double width = (end - start) / counts.Length;
        foreach (double place in places)
            counts[Math.Clamp((int)((place - start) / width), 0, counts.Length - 1)]++;
        return [.. counts.Select((n, i) => (ValueAt(start + i * width), ValueAt(start + (i + 1) * width), n))];

        double ValueAt(double place) => Value.IsLogarithmic ? Math.Pow(10, place) : place;
    }

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        IReadOnlyList<(double From, double To, int Count)> bars = Bars();
        double top = area.Top + 34, bottom = area.Bottom - 44, most = Math.Max(2, bars.Select(b => b.Count).DefaultIfEmpty(0).Max() * 1.06);
        Scale y = new(new Axis(Counted), (0, most), bottom, top, (int)Math.Clamp(Math.Min((bottom - top) / 22, most), 1, 8),
            (n, _) => Number(n, "0"));
        Area inner = new(area.Left + y.TickWidth, top, area.Right, bottom);
        (double From, double To) range = bars.Count == 0 ? (0, 1) : (Value.Place(bars[0].From), Value.Place(bars[^1].To));
        Scale x = new(Value, range, inner.Left, inner.Right, (int)Math.Clamp(inner.Width / 48, 2, 9), Number);
        y.DrawLeft(sheet, inner);
        foreach ((double from, double to, int count) in bars)
        {
            string outline = Outline.Box(x.At(from) + 0.75, y.At(count), x.At(to) - x.At(from) - 1.5, bottom - y.At(count));
            sheet.Draw(HouseColours.Series[0], Look.Bar, outline);
        }

        x.DrawBelow(sheet, bottom);
        if (bars.Count == 0)
            return;
        double median = Quantiles.Of([.. Values.Where(Value.CanShow).Order()], 0.5), at = x.At(median);
        bool isRight = at > inner.Right - 120;
        string line = Outline.Line(at, top - 10, at, bottom);
        sheet.Draw(HouseColours.Ink, Look.Halo, line);
        sheet.Draw(HouseColours.Ink, Look.Thick, line);
        sheet.Write(HouseColours.Ink, $"{Median.Name} {Number(median, Median.Format)}", at + (isRight ? -6 : 6), top - 3,
            isRight ? SKTextAlign.Right : SKTextAlign.Left, isBold: true);
    }
}
