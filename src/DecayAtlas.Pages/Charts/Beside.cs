namespace DecayAtlas.Pages.Charts;

/// <summary>A group's own values as diamonds on a line, over the middle half and the middle 90 % of others.</summary>
internal static class Beside
{
    public static Markup Draw(IReadOnlyList<double> own, IReadOnlyList<double> others, bool isLog, string name, string format, Language words)
    {
        const double Width = 520, Height = 96, Left = 14, Right = 506, Middle = 34;
        double[] sorted = Quantiles.Sort(others), all = Quantiles.Sort(others.Concat(own));
        double low = Math.Min(Quantiles.Of(all, 0.01), own.DefaultIfEmpty(all[0]).Min()), high = Math.Max(Quantiles.Of(all, 0.99), own.DefaultIfEmpty(all[^1]).Max());
        Axis x = isLog ? Axis.Log(low / 1.08, high * 1.08, Left, Right) : Axis.Linear(low - 0.03 * (high - low), high + 0.03 * (high - low), Left, Right, 6);
        string ticks = isLog ? "" : Histogram.TickFormat(x);
        Markup band = sorted.Length == 0 ? Markup.None : Markup.Of(
            $"""
            <rect class="wide" x="{x.At(Quantiles.Of(sorted, 0.05))}" width="{x.At(Quantiles.Of(sorted, 0.95)) - x.At(Quantiles.Of(sorted, 0.05))}" y="{Middle - 7}" height="14" rx="7"/><rect class="half-box" x="{x.At(Quantiles.Of(sorted, 0.25))}" width="{Math.Max(2, x.At(Quantiles.Of(sorted, 0.75)) - x.At(Quantiles.Of(sorted, 0.25)))}" y="{Middle - 13}" height="26" rx="3"/><line class="mid" x1="{x.At(Quantiles.Of(sorted, 0.5))}" x2="{x.At(Quantiles.Of(sorted, 0.5))}" y1="{Middle - 13}" y2="{Middle + 13}"/>
            """);
        return Figure.Svg(Width, Height, words.Say("beside.name", Figure.Plain(name), string.Join(", ", own.Select(v => words.Number(v, format))), words.Number(Quantiles.Of(sorted, 0.25), format), words.Number(Quantiles.Of(sorted, 0.75), format)), Markup.Of(
            $"""
            {band}{own.Select(v => Markup.Of($"""<path class="own" d="M{x.At(v)} {Middle - 8}l8 8l-8 8l-8 -8z"/>"""))}
            {Figure.Bottom(x, Middle + 22, Left, Right, t => isLog ? words.Number(t) : words.Number(t, ticks), Figure.Slanted(name))}
            """));
    }
}
