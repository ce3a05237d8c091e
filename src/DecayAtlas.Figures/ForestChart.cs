using System.Globalization;
using ScottPlot;
using ScottPlot.Plottables;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>One estimate with its interval.</summary>
/// <param name="Name">What was estimated.</param>
/// <param name="Value">The estimate.</param>
/// <param name="Lower">Lower end; missing where there is no interval.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="IsStrong">Whether it is drawn in colour, for example since its interval excludes the reference.</param>
public readonly record struct ForestRow(string Name, double Value, double? Lower, double? Upper, bool IsStrong = true);

/// <summary>Estimates with intervals, one a row, beside a line of no effect.</summary>
/// <param name="Value">The axis of the estimates.</param>
/// <param name="Rows">Rows from top to bottom.</param>
public sealed record ForestChart(string Title, string AltText, Axis Value, IReadOnlyList<ForestRow> Rows) : Chart(Title, AltText)
{
    /// <summary>Where there is no effect: 1 for ratios, 0 for differences.</summary>
    public double? Reference { get; init; }

    /// <summary>How values are written at the right.</summary>
    public string NumberFormat { get; init; } = "0.00";

    /// <summary>A height at which rows stand well apart.</summary>
    public static int HeightFor(int rows) => 140 + 26 * Math.Max(rows, 2);

    internal override IReadOnlyList<LegendKey> Legend => [];

    internal override void PaintBody(SKCanvas canvas, SKRect area)
    {
        Plot plot = HouseStyle.NewPlot();
        (double From, double To) range = Value.Range(Rows.SelectMany(r => new[] { r.Value, r.Lower ?? r.Value, r.Upper ?? r.Value }).Concat(Reference is { } zero ? [zero] : []));
        string[] numbers = [.. Rows.Select(Text)];
        float names = Rows.Max(r => Lettering.Width(r.Name, 12)) + 14, values = numbers.Max(t => Lettering.Width(t, 12)) + 24;
        Value.Apply(plot.Axes.Bottom, range, (int)Math.Clamp((area.Width - names - values) / 80, 2, 8));
        plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. Rows.Select((_, i) => (double)-i)], [.. Rows.Select(r => r.Name)]);
        plot.Axes.Left.TickLabelStyle.ForeColor = HouseStyle.Colour(HouseStyle.Ink);
        plot.Axes.Left.FrameLineStyle.Width = 0;
        plot.Axes.Left.MajorTickStyle.Length = 0;
        plot.Grid.YAxisStyle.IsVisible = false;
        (plot.Axes.Left.Min, plot.Axes.Left.Max) = (-Rows.Count + 0.4, 0.6);
        if (Reference is { } reference)
            plot.Add.VerticalLine(Value.Place(reference), 1, HouseStyle.Colour(HouseStyle.Quiet), LinePattern.Dashed);
        for (int i = 0; i < Rows.Count; i++)
            AddRow(plot, Rows[i], -i);
        var frame = new PixelRect(area.Left + 8, area.Right - 10, area.Bottom - 6, area.Top);
        var data = new PixelPadding(names, values, 46, 4);
        plot.Layout.Fixed(data);
        plot.Render(canvas, frame);
        for (int i = 0; i < Rows.Count; i++)
            Lettering.Draw(canvas, numbers[i], frame.Right - 4, plot.GetPixel(new Coordinates(range.From, -i)).Y + 4.3f, 12, HouseStyle.SkColour(HouseStyle.Quiet), align: SKTextAlign.Right);
    }

    private void AddRow(Plot plot, ForestRow row, double at)
    {
        if (!Value.CanShow(row.Value))
            return;
        Color colour = HouseStyle.Colour(row.IsStrong ? HouseStyle.Series[0] : HouseStyle.Quiet);
        if (row is { Lower: { } lower, Upper: { } upper } && Value.CanShow(lower) && Value.CanShow(upper))
        {
            LinePlot interval = plot.Add.Line(Value.Place(lower), at, Value.Place(upper), at);
            (interval.LineColor, interval.LineWidth) = (colour, 2);
        }

        Scatter point = plot.Add.ScatterPoints((double[])[Value.Place(row.Value)], (double[])[at]);
        (point.MarkerShape, point.MarkerSize, point.MarkerFillColor, point.MarkerLineColor, point.MarkerLineWidth) = (MarkerShape.FilledSquare, 8, colour, Colors.White, 0.8f);
    }

    private string Text(ForestRow row)
    {
        string value = row.Value.ToString(NumberFormat, CultureInfo.InvariantCulture);
        return row is { Lower: { } lower, Upper: { } upper }
            ? $"{value}  [{lower.ToString(NumberFormat, CultureInfo.InvariantCulture)}, {upper.ToString(NumberFormat, CultureInfo.InvariantCulture)}]".Replace('-', '−')
            : value.Replace('-', '−');
    }
}
