namespace DecayAtlas.Pages.Charts;

/// <summary>One curve, with a line at 0 where the curve crosses it.</summary>
internal static class Line
{
    public static Markup Draw(IReadOnlyList<(double X, double Y)> points, string xName, string yName, Language words)
    {
        const double Width = 520, Height = 230, Left = 58, Right = 508, Top = 36, Bottom = 184;
        double low = points.Min(p => p.Y), high = points.Max(p => p.Y), margin = Math.Max((high - low) * 0.06, 1e-9);
        var x = Axis.Linear(points.Min(p => p.X), points.Max(p => p.X), Left + 6, Right - 6, 6);
        var y = Axis.Linear(low - margin, high + margin, Bottom, Top, 4);
        (string xFormat, string yFormat) = (Histogram.TickFormat(x), Histogram.TickFormat(y));
        return Figure.Svg(Width, Height, $"{Figure.Plain(yName)}: {string.Join("; ", points.Where((_, i) => i == 0 || i == points.Count / 2 || i == points.Count - 1).Select(p => $"{words.Number(p.X)}: {words.Number(p.Y)}"))} ({xName})", Markup.Of(
            $"""
            {Figure.Left(y, Left, Right, Top, t => words.Number(t, yFormat), Figure.Slanted(yName))}
            {(low < 0 && high > 0 ? Markup.Of($"""<line class="axis" x1="{Left}" x2="{Right}" y1="{y.At(0)}" y2="{y.At(0)}"/>""") : Markup.None)}<polyline class="effect" points="{string.Join(' ', points.Select(p => Markup.Of($"{x.At(p.X)},{y.At(p.Y)}").ToString()))}"/>{points.Select(p => Markup.Of($"""<circle class="slow mark" r="3" cx="{x.At(p.X)}" cy="{y.At(p.Y)}"/>"""))}
            {Figure.Bottom(x, Bottom, Left, Right, t => words.Number(t, xFormat), Markup.Of($"{xName}"))}
            """));
    }
}
