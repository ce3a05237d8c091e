using ScottPlot;
using ScottPlot.Plottables;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>A chart of two numeric axes: points, lines, bands and rules in layers, the first at the bottom.</summary>
public sealed record XyChart(string Title, string AltText, Axis X, Axis Y, IReadOnlyList<Layer> Layers) : Chart(Title, AltText)
{
    /// <summary>Both axes have one range and the line of equal values is drawn, for observed against predicted.</summary>
    public bool HasEqualAxes { get; init; }

    internal override IReadOnlyList<LegendKey> Legend =>
        [.. Layers.Select((layer, i) => layer.Key(HouseStyle.ColourOf(layer.Series ?? i), layer.Series ?? i)).OfType<LegendKey>()];

    internal override void PaintBody(SKCanvas canvas, SKRect area)
    {
        Plot plot = HouseStyle.NewPlot();
        (double From, double To) x = X.Range(Layers.SelectMany(l => l.Xs)), y = Y.Range(Layers.SelectMany(l => l.Ys));
        if (HasEqualAxes)
        {
            x = y = (Math.Min(x.From, y.From), Math.Max(x.To, y.To));
            LinePlot equal = plot.Add.Line(x.From, x.From, x.To, x.To);
            (equal.LineColor, equal.LineWidth, equal.LinePattern) = (HouseStyle.Colour(HouseStyle.Quiet), 1, LinePattern.Dashed);
        }

        X.Apply(plot.Axes.Bottom, x, (int)Math.Clamp(area.Width / 75, 2, 9));
        Y.Apply(plot.Axes.Left, y, (int)Math.Clamp(area.Height / 55, 2, 8));
        for (int i = 0; i < Layers.Count; i++)
            Layers[i].Add(plot, X, Y, Layers[i].Series ?? i);
        plot.Render(canvas, new PixelRect(area.Left + 6, area.Right - 10, area.Bottom - 6, area.Top));
    }
}

/// <summary>One layer of a chart.</summary>
public abstract record Layer
{
    /// <summary>Words in the legend; none by default.</summary>
    public string? Label { get; init; }

    /// <summary>Which series colour and mark, from 0; by default the layer's place. Layers of one thing share one.</summary>
    public int? Series { get; init; }

    internal abstract IEnumerable<double> Xs { get; }

    internal abstract IEnumerable<double> Ys { get; }

    internal abstract LegendKey? Key(string colour, int series);

    internal abstract void Add(Plot plot, Axis x, Axis y, int series);
}

/// <summary>A point; intervals are ends, not lengths, and may be missing.</summary>
public readonly record struct ChartPoint(double X, double Y, double? LowerY = null, double? UpperY = null, double? LowerX = null, double? UpperX = null);

/// <summary>Points, with intervals where they have some.</summary>
public sealed record Points(IReadOnlyList<ChartPoint> Values) : Layer
{
    internal override IEnumerable<double> Xs => Values.SelectMany(v => new[] { v.X, v.LowerX ?? v.X, v.UpperX ?? v.X });

    internal override IEnumerable<double> Ys => Values.SelectMany(v => new[] { v.Y, v.LowerY ?? v.Y, v.UpperY ?? v.Y });

    internal override LegendKey? Key(string colour, int series) =>
        Label is null ? null : new LegendKey(Label, colour, HouseStyle.ShapeOf(series), false, false, false);

    internal override void Add(Plot plot, Axis x, Axis y, int series)
    {
        string colour = HouseStyle.ColourOf(series);
        ChartPoint[] shown = [.. Values.Where(v => x.CanShow(v.X) && y.CanShow(v.Y))];
        if (shown.Length == 0)
            return;
        // the more points, the smaller and the more transparent, so that a crowd shows as one
        (float size, double opacity) = shown.Length switch { <= 60 => (8f, 0.9), <= 400 => (6.5f, 0.7), <= 1500 => (5f, 0.5), _ => (4f, 0.35) };
        double[] xs = [.. shown.Select(v => x.Place(v.X))], ys = [.. shown.Select(v => y.Place(v.Y))];
        if (shown.Any(v => v.LowerY is not null || v.UpperY is not null || v.LowerX is not null || v.UpperX is not null))
        {
            plot.PlottableList.Add(new ErrorBar(
                xs, ys,
                [.. shown.Select((v, i) => Reach(x, v.LowerX, xs[i]))], [.. shown.Select((v, i) => Reach(x, v.UpperX, xs[i]))],
                [.. shown.Select((v, i) => Reach(y, v.LowerY, ys[i]))], [.. shown.Select((v, i) => Reach(y, v.UpperY, ys[i]))])
            {
                LineColor = HouseStyle.Colour(colour, Math.Min(0.6, opacity)), LineWidth = 1.2f, CapSize = 0,
            });
        }

        Scatter points = plot.Add.ScatterPoints(xs, ys);
        (points.MarkerShape, points.MarkerSize, points.MarkerFillColor) = (HouseStyle.ShapeOf(series), size, HouseStyle.Colour(colour, opacity));
        (points.MarkerLineColor, points.MarkerLineWidth) = (Colors.White, shown.Length <= 400 ? 0.8f : 0);
    }

    private static double Reach(Axis axis, double? end, double place) => end is { } value && axis.CanShow(value) ? Math.Abs(axis.Place(value) - place) : 0;
}

/// <summary>A line through points in order.</summary>
public sealed record Line(IReadOnlyList<(double X, double Y)> Values) : Layer
{
    public bool IsDashed { get; init; }

    internal override IEnumerable<double> Xs => Values.Select(v => v.X);

    internal override IEnumerable<double> Ys => Values.Select(v => v.Y);

    internal override LegendKey? Key(string colour, int series) => Label is null ? null : new LegendKey(Label, colour, null, true, false, IsDashed);

    internal override void Add(Plot plot, Axis x, Axis y, int series)
    {
        (double X, double Y)[] shown = [.. Values.Where(v => x.CanShow(v.X) && y.CanShow(v.Y))];
        Scatter line = plot.Add.ScatterLine((double[])[.. shown.Select(v => x.Place(v.X))], (double[])[.. shown.Select(v => y.Place(v.Y))]);
        (line.LineColor, line.LineWidth, line.LinePattern) = (HouseStyle.Colour(HouseStyle.ColourOf(series)), 2, IsDashed ? LinePattern.Dashed : LinePattern.Solid);
    }
}

/// <summary>A band between two lines, for an interval of a curve.</summary>
public sealed record Band(IReadOnlyList<(double X, double Lower, double Upper)> Values) : Layer
{
    internal override IEnumerable<double> Xs => Values.Select(v => v.X);

    internal override IEnumerable<double> Ys => Values.SelectMany(v => new[] { v.Lower, v.Upper });

    internal override LegendKey? Key(string colour, int series) => Label is null ? null : new LegendKey(Label, colour, null, false, true, false);

    internal override void Add(Plot plot, Axis x, Axis y, int series)
    {
        (double X, double Lower, double Upper)[] shown = [.. Values.Where(v => x.CanShow(v.X) && y.CanShow(v.Lower) && y.CanShow(v.Upper))];
        if (shown.Length < 2)
            return;
        FillY band = plot.Add.FillY([.. shown.Select(v => x.Place(v.X))], [.. shown.Select(v => y.Place(v.Lower))], [.. shown.Select(v => y.Place(v.Upper))]);
        (band.FillColor, band.LineWidth) = (HouseStyle.Colour(HouseStyle.ColourOf(series), 0.18), 0);
    }
}

/// <summary>A straight reference line over the whole chart at a value of one axis.</summary>
public sealed record Rule(double At, bool IsVertical = false) : Layer
{
    public bool IsDashed { get; init; }

    internal override IEnumerable<double> Xs => IsVertical ? [At] : [];

    internal override IEnumerable<double> Ys => IsVertical ? [] : [At];

    internal override LegendKey? Key(string colour, int series) => Label is null ? null : new LegendKey(Label, HouseStyle.Quiet, null, true, false, IsDashed);

    internal override void Add(Plot plot, Axis x, Axis y, int series)
    {
        Color colour = HouseStyle.Colour(HouseStyle.Quiet);
        LinePattern pattern = IsDashed ? LinePattern.Dashed : LinePattern.Solid;
        if (IsVertical && x.CanShow(At))
            plot.Add.VerticalLine(x.Place(At), 1, colour, pattern);
        else if (!IsVertical && y.CanShow(At))
            plot.Add.HorizontalLine(y.Place(At), 1, colour, pattern);
    }
}
