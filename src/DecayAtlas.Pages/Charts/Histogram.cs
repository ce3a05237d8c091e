namespace DecayAtlas.Pages.Charts;

/// <summary>How often values fall where: bars of even width over the middle 99 %, what lies beyond in the end bars, the median marked.</summary>
internal static class Histogram
{
    private const double Width = 520, Height = 240, LeftEdge = 46, RightEdge = 508, Top = 34, Base = 192;

    public static Markup Of(IReadOnlyList<double> values, Markup caption, string name, string format, Language words)
    {
        double[] sorted = Quantiles.Sort(values);
        if (sorted.Length == 0)
            return Markup.Of($"<p class=\"nothing\">{words["nothing.drawn"]}</p>");
        double low = Quantiles.Of(sorted, 0.005), high = Quantiles.Of(sorted, 0.995);
        int bins = Math.Clamp((int)Math.Ceiling(Math.Sqrt(sorted.Length)), 5, 24);
        var x = Axis.Linear(low, high, LeftEdge, RightEdge, 6);
        double step = (x.High - x.Low) / bins;
        int[] counts = new int[bins];
        foreach (double value in sorted)
            counts[Math.Clamp((int)((value - x.Low) / step), 0, bins - 1)]++;
        var y = Axis.Linear(0, counts.Max() * 1.06, Base, Top, 4);
        double median = Quantiles.Of(sorted, 0.5), bar = (RightEdge - LeftEdge) / bins;

        Markup drawing = Figure.Svg(Width, Height, $"{Figure.Plain(name)}: {words.Say("histogram.name", words.Count(sorted.Length), words.Number(median, format), words.Number(Quantiles.Of(sorted, 0.25), format), words.Number(Quantiles.Of(sorted, 0.75), format))}", Markup.Of(
            $"""
            {Figure.Left(y, LeftEdge, RightEdge, Top, t => t == Math.Floor(t) ? words.Count((int)t) : "", Markup.Of($"{words["histogram.count"]}"))}
            {counts.Select((n, i) => Markup.Of($"""<rect class="bar" x="{LeftEdge + i * bar + 0.75}" width="{bar - 1.5}" y="{y.At(n)}" height="{Base - y.At(n)}"/>"""))}
            <line class="median" x1="{x.At(median)}" x2="{x.At(median)}" y1="{Top - 6}" y2="{Base}"/><text class="note" text-anchor="{(x.At(median) > RightEdge - 120 ? "end" : "start")}" x="{x.At(median) + (x.At(median) > RightEdge - 120 ? -6 : 6)}" y="{Top + 2}">{words["histogram.median"]} {words.Number(median, format)}</text>
            {Figure.Bottom(x, Base, LeftEdge, RightEdge, t => words.Number(t, TickFormat(x)), Figure.Slanted(name))}
            """));
        return Figure.WithNumbers(drawing, caption, words["figure.numbers"], [words["histogram.from"], words["histogram.to"], words["histogram.count"]],
            counts.Select((n, i) => (IReadOnlyList<string>)[words.Number(x.Low + i * step, format), words.Number(x.Low + (i + 1) * step, format), words.Count(n)]));
    }

    /// <summary>As many decimals as the marks need.</summary>
    internal static string TickFormat(Axis axis)
    {
        double step = axis.Ticks.Count > 1 ? axis.Ticks[1] - axis.Ticks[0] : 1;
        int decimals = Math.Clamp((int)Math.Ceiling(-Math.Log10(step) - 1e-9), 0, 6);
        return decimals == 0 ? "0" : "0." + new string('0', decimals);
    }
}
