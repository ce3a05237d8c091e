namespace DecayAtlas.Pages.Charts;

/// <summary>A mean ratio with its interval, over the wider range in which single cases lie, against a line at 1.</summary>
internal static class Interval
{
    public static Markup Draw(double ratio, double lower, double upper, double from, double to, Language words)
    {
        const double Width = 560, Left = 14, Right = 546, Middle = 30;
        var x = Axis.Log(Math.Min(from, 0.8) / 1.05, Math.Max(to, 1.25) * 1.05, Left, Right, [0.1, 0.2, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.25, 1.5, 2, 3, 5, 10]);
        string name = words["agreement.axis"];
        return Figure.Svg(Width, 94, $"{Figure.Plain(name)}: {words.Number(ratio, "0.00")} ({words.Number(lower, "0.00")} – {words.Number(upper, "0.00")}); {words["agreement.limits"]}: {words.Number(from, "0.00")} – {words.Number(to, "0.00")}", Markup.Of(
            $"""
            <rect class="wide" x="{x.At(from)}" width="{x.At(to) - x.At(from)}" y="{Middle - 10}" height="20" rx="10"/><line class="axis" x1="{x.At(1)}" x2="{x.At(1)}" y1="{Middle - 24}" y2="{Middle + 22}"/><line class="half" x1="{x.At(lower)}" x2="{x.At(upper)}" y1="{Middle}" y2="{Middle}"/><path class="own" d="M{x.At(ratio)} {Middle - 8}l8 8l-8 8l-8 -8z"/>
            {Figure.Bottom(x, Middle + 22, Left, Right, t => words.Number(t), Figure.Slanted(name))}
            """));
    }
}
