namespace DecayAtlas.Pages.Charts;

/// <summary>One bar: its name, how long it is, and how sure that is.</summary>
internal sealed record Bar(string Name, double Value, double? Deviation = null, bool IsMarked = false);

/// <summary>Named bars side by side, one marked where there is a winner.</summary>
internal static class Bars
{
    /// <param name="valueFormat">How the values are written, all to the same place, so that they can be read down.</param>
    public static Markup Draw(IReadOnlyList<Bar> bars, string name, Language words, string valueFormat)
    {
        const double Row = 30, Top = 8, LetterWidth = 6.9, BarWidth = 330, Narrowest = 560;   // short names leave more to the bars, so that letters are as large as elsewhere
        double labelWidth = Math.Clamp(bars.Max(b => b.Name.Length) * LetterWidth + 14, 90, 300), width = Math.Max(labelWidth + BarWidth, Narrowest);
        double bottom = Top + bars.Count * Row, right = width - 64;
        double low = Math.Min(0, bars.Min(b => b.Value - (b.Deviation ?? 0))), high = Math.Max(bars.Max(b => b.Value + (b.Deviation ?? 0)), 1e-9);
        var x = Axis.Linear(low, high, labelWidth, right, 4);
        string format = Histogram.TickFormat(x);
        return Figure.Svg(width, bottom + 46, $"{Figure.Plain(name)}: {string.Join("; ", bars.Select(b => $"{b.Name} {words.Number(b.Value, valueFormat)}"))}", Markup.Of(
            $"""
            {bars.Select((b, i) => Markup.Of($"""
                <text class="label" text-anchor="end" x="{labelWidth - 10}" y="{Top + i * Row + 19}">{b.Name}</text><rect class="bar{(b.IsMarked ? " marked" : "")}" rx="2" x="{Math.Min(x.At(0), x.At(b.Value))}" y="{Top + i * Row + 6}" height="{Row - 12}" width="{Math.Max(1, Math.Abs(x.At(b.Value) - x.At(0)))}"/>{(b.Deviation is { } d ? Markup.Of($"""<line class="half thin" x1="{x.At(b.Value - d)}" x2="{x.At(b.Value + d)}" y1="{Top + i * Row + 15}" y2="{Top + i * Row + 15}"/>""") : Markup.None)}<text class="note" x="{Math.Max(x.At(b.Value + (b.Deviation ?? 0)), x.At(0)) + 7}" y="{Top + i * Row + 19}">{words.Number(b.Value, valueFormat)}</text>
                """))}
            {Figure.Bottom(x, bottom, labelWidth, right, t => words.Number(t, format), Figure.Slanted(name))}
            """));
    }
}
