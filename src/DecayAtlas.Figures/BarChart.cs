using ScottPlot;
using ScottPlot.Plottables;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>One bar from 0 to its value, with an interval where it has one.</summary>
public readonly record struct BarValue(string Name, double Value, double? Lower = null, double? Upper = null);

/// <summary>Horizontal bars with intervals, so that long names stay readable: shares, importances, recalls.</summary>
/// <param name="Value">The axis of the values.</param>
/// <param name="Bars">Bars from top to bottom.</param>
public sealed record BarChart(string Title, string AltText, Axis Value, IReadOnlyList<BarValue> Bars) : Chart(Title, AltText)
{
    /// <summary>A height at which bars stand well apart.</summary>
    public static int HeightFor(int bars) => 140 + 32 * Math.Max(bars, 2);

    internal override IReadOnlyList<LegendKey> Legend => [];

    internal override void PaintBody(SKCanvas canvas, SKRect area)
    {
        Plot plot = HouseStyle.NewPlot();
        (double From, double To) range = Value.Range(Bars.SelectMany(b => new[] { 0, b.Value, b.Lower ?? b.Value, b.Upper ?? b.Value }));
        if (Value.From is null && Bars.All(b => b.Value >= 0 && (b.Lower ?? 0) >= 0))
            range.From = 0;
        float names = Bars.Max(b => Lettering.Width(b.Name, 12)) + 14;
        Value.Apply(plot.Axes.Bottom, range, (int)Math.Clamp((area.Width - names) / 80, 2, 8));
        plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. Bars.Select((_, i) => (double)-i)], [.. Bars.Select(b => b.Name)]);
        plot.Axes.Left.TickLabelStyle.ForeColor = HouseStyle.Colour(HouseStyle.Ink);
        plot.Axes.Left.MajorTickStyle.Length = 0;
        plot.Grid.YAxisStyle.IsVisible = false;
        (plot.Axes.Left.Min, plot.Axes.Left.Max) = (-Bars.Count + 0.4, 0.6);
        BarPlot bars = plot.Add.Bars((Bar[])[.. Bars.Select((b, i) => new Bar
        {
            Position = -i, Value = b.Value, Size = 0.62, Orientation = Orientation.Horizontal,
            FillColor = HouseStyle.Colour(HouseStyle.Series[0], 0.75), LineWidth = 0,
        })]);
        bars.Horizontal = true;
        for (int i = 0; i < Bars.Count; i++)
        {
            if (Bars[i] is { Lower: { } lower, Upper: { } upper })
            {
                LinePlot interval = plot.Add.Line(lower, -i, upper, -i);
                (interval.LineColor, interval.LineWidth) = (HouseStyle.Colour(HouseStyle.Ink), 1.5f);
            }
        }

        plot.Layout.Fixed(new PixelPadding(names, 16, 46, 4));
        plot.Render(canvas, new PixelRect(area.Left + 8, area.Right - 10, area.Bottom - 6, area.Top));
    }
}
