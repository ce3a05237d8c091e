namespace DecayAtlas.Pages.Charts;

/// <summary>What was left of the litter in each bag, drawn as a bag that is filled so far.</summary>
internal static class BagsLeft
{
    /// <param name="bags">Name of the litter and the share of its mass that was left.</param>
    public static Markup Draw(IReadOnlyList<(string Name, double Share)> bags, Language words)
    {
        const double Width = 340, Row = 30, Left = 120, Right = 292;
        return Figure.Svg(Width, bags.Count * Row + 2, string.Join("; ", bags.Select(b => $"{b.Name}: {words.Say("sheet.left.share", words.Percent(b.Share))}")), Markup.Of(
            $"""
            {bags.Select((b, i) => Markup.Of($"""
                <text class="label" text-anchor="end" x="{Left - 10}" y="{i * Row + 20}">{b.Name}</text><rect class="bag" x="{Left}" y="{i * Row + 4}" width="{Right - Left}" height="{Row - 8}" rx="6"/><rect class="bag-fill{(i == 0 ? " fast" : "")}" x="{Left}" y="{i * Row + 4}" width="{(Right - Left) * Math.Clamp(b.Share, 0, 1)}" height="{Row - 8}" rx="6"/><text class="note" x="{Right + 7}" y="{i * Row + 20}">{words.Percent(b.Share)}</text>
                """))}
            """));
    }
}
