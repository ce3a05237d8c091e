namespace DecayAtlas.Kit.Printing;

/// <summary>A label for each bag, to cut out: its number, which litter it holds, and a code to scan. A shape tells the litters apart where
/// no colour is printed.</summary>
internal static class LabelsPage
{
    private const int Columns = 3;

    public static Markup Of(GroupKit kit)
    {
        string name = kit.Words["kit.page.labels"];
        IEnumerable<Markup> labels = kit.HoleNumbers.SelectMany(hole => new[] { Label(kit, hole, "fast"), Label(kit, hole, "slow") });
        IEnumerable<Markup> pages = labels.Chunk(Columns * kit.Paper.LabelRows)
            .Select((page, i) => Markup.Of(
                $"<div class=\"labels-page\" tabindex=\"0\" role=\"region\" aria-label=\"{Invariant($"{name} {i + 1}")}\">{page}</div>\n"));
        return Markup.Of($"<p class=\"how\">{kit.Words["kit.label.how"]}</p>\n{pages}");
    }

    private static Markup Label(GroupKit kit, int hole, string role)
    {
        string bag = KitForm.BagOf(KitPage.Plain(hole), role), litter = kit.Words[$"kit.{role}"];
        IReadOnlyDictionary<string, string> lot = role == "fast" ? kit.Fast : kit.Slow;
        return Markup.Of(
            $"""
            <div class="label"><div class="said"><p class="bag">{bag}</p>
            <p class="litter"><span class="shape {role}"></span>{litter}</p>
            <p class="lot">{kit.Words.Say("kit.protocol.lot", lot["lot_id"])}</p>
            <p class="whose">{kit.Title}</p><p class="whose">{kit.GroupTitle}</p></div>{CodeSquare.Draw(CodeSquare.TextOf(kit, bag))}</div>

            """);
    }
}
