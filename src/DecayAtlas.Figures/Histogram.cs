using ScottPlot;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>How often values fall in bins of one width (Freedman and Diaconis 1981, Z. Wahrscheinlichkeitstheorie 57:453-476; from 5 to 60 bins).</summary>
/// <param name="Value">The axis of the values; on a logarithmic one, bins are of one width in the logarithm.</param>
/// <param name="Values">The values.</param>
public sealed record Histogram(string Title, string AltText, Axis Value, IReadOnlyList<double> Values) : Chart(Title, AltText)
{
    /// <summary>What is counted, for the axis of counts.</summary>
    public string Counted { get; init; } = "count";

    internal override IReadOnlyList<LegendKey> Legend => [];

    internal override void PaintBody(SKCanvas canvas, SKRect area)
    {
        Plot plot = HouseStyle.NewPlot();
        double[] places = [.. Values.Where(Value.CanShow).Select(Value.Place).Order()];
        (double start, double width, int[] counts) = Bin(places);
        plot.Add.Bars((Bar[])[.. counts.Select((count, i) => new Bar
        {
            Position = start + (i + 0.5) * width, Value = count, Size = width * 0.94, FillColor = HouseStyle.Colour(HouseStyle.Series[0], 0.75), LineWidth = 0,
        })]);
        (double From, double To) range = Value.Range(Values);
        Value.Apply(plot.Axes.Bottom, (Math.Min(range.From, start), Math.Max(range.To, start + counts.Length * width)), (int)Math.Clamp(area.Width / 75, 2, 9));
        double most = counts.DefaultIfEmpty(0).Max() * 1.05;
        new Axis(Counted).Apply(plot.Axes.Left, (0, Math.Max(1, most)), (int)Math.Clamp(Math.Min(area.Height / 55, Math.Max(2, most)), 2, 8));
        plot.Grid.XAxisStyle.IsVisible = false;
        plot.Render(canvas, new PixelRect(area.Left + 6, area.Right - 10, area.Bottom - 6, area.Top));
    }

    private static (double Start, double Width, int[] Counts) Bin(double[] sorted)
    {
        if (sorted.Length == 0)
            return (0, 1, []);
        double span = sorted[^1] - sorted[0], quartiles = At(0.75) - At(0.25);
        if (!(span > 0))
            return (sorted[0] - 0.5, 1, [sorted.Length]);
        double ideal = 2 * quartiles / Math.Cbrt(sorted.Length);
        int bins = Math.Clamp(ideal > 0 ? (int)Math.Ceiling(span / ideal) : 5, 5, 60);
        double width = span / bins;
        int[] counts = new int[bins];
        foreach (double value in sorted)
            counts[Math.Min(bins - 1, (int)((value - sorted[0]) / width))]++;
        return (sorted[0], width, counts);

        double At(double share) => sorted[(int)Math.Round(share * (sorted.Length - 1))];
    }
}
