namespace DecayAtlas.Pages.Charts;

/// <summary>
/// A drawing in the page itself: it takes its colours from the page, so that it is right by day, by night and on paper, and its
/// numbers stand beside it for those who don't see it.
/// </summary>
internal static class Figure
{
    /// <summary>An SVG with a name for those who don't see it.</summary>
    public static Markup Svg(double width, double height, string name, Markup content) => Markup.Of(
        $"""<svg class="chart" viewBox="0 0 {width} {height}" role="img" aria-label="{name}">{content}</svg>""");

    /// <summary>A drawing with its caption and the numbers behind it.</summary>
    public static Markup WithNumbers(Markup drawing, Markup caption, string numbersTitle, IReadOnlyList<string> head, IEnumerable<IReadOnlyList<string>> rows) => Markup.Of(
        $"""
        <figure class="figure">
        {drawing}
        <figcaption>{caption}</figcaption>
        <details><summary>{numbersTitle}</summary><div class="scroll" tabindex="0" role="region" aria-label="{numbersTitle}"><table><thead><tr>{head.Select(h => Markup.Of($"<th scope=\"col\">{h}</th>"))}</tr></thead>
        <tbody>{rows.Select(r => Markup.Of($"<tr>{r.Select(c => Markup.Of($"<td>{c}</td>"))}</tr>\n"))}</tbody></table></div></details>
        </figure>

        """);

    /// <summary>The marks and the name of an axis along the bottom.</summary>
    public static Markup Bottom(Axis axis, double y, double left, double right, Func<double, string> write, Markup name) => Markup.Of(
        $"""
        <line class="axis" x1="{left}" x2="{right}" y1="{y}" y2="{y}"/>{axis.Ticks.Select(t => Markup.Of($"""<line class="axis" x1="{axis.At(t)}" x2="{axis.At(t)}" y1="{y}" y2="{y + 4}"/><text class="tick" text-anchor="middle" x="{axis.At(t)}" y="{y + 17}">{write(t)}</text>"""))}<text class="name" text-anchor="middle" x="{(left + right) / 2}" y="{y + 36}">{name}</text>
        """);

    /// <summary>The marks of an axis along the left, with faint lines across, and its name above them.</summary>
    public static Markup Left(Axis axis, double x, double right, double top, Func<double, string> write, Markup name) => Markup.Of(
        $"""
        {axis.Ticks.Select(t => Markup.Of($"""<line class="grid" x1="{x}" x2="{right}" y1="{axis.At(t)}" y2="{axis.At(t)}"/><text class="tick" text-anchor="end" x="{x - 7}" y="{axis.At(t) + 4}">{write(t)}</text>"""))}<text class="name" x="4" y="{top - 12}">{name}</text>
        """);

    /// <summary>Letters for quantities slanted inside a drawing: *k* becomes a slanted k.</summary>
    public static Markup Slanted(string text) => Markup.Join(text.Split('*').Select((piece, i) => i % 2 == 0 ? Markup.Of($"{piece}") : Markup.Of($"<tspan font-style=\"italic\">{piece}</tspan>")));

    /// <summary>The same without the asterisks, for a name that is read out.</summary>
    public static string Plain(string text) => text.Replace("*", "", StringComparison.Ordinal);
}
