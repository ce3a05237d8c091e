namespace DecayAtlas.Kit.Printing;

/// <summary>What goes along on the day of burial and on the day of digging up.</summary>
internal static class FieldSheets
{
    private static readonly string[] States = ["intact", "torn", "roots", "lost"];

    private static readonly string[] DiggingHeads = ["hole", "fast-state", "slow-state", "dug", "notes"];

    private static readonly string[] PlaceHeads = ["place-name", "latitude", "longitude", "exactness", "hide", "ecosystem", "land-use"];

    public static Markup Burial(GroupKit kit)
    {
        Phrases words = kit.Words;
        string[] steps =
        [
            kit.Campaign.Bags.TryGetValue("depth_cm", out string? depth) ? words.Say("kit.burial.1", kit.Number(depth))
                : words["kit.burial.1.free"],
            words["kit.burial.2"], words["kit.burial.3"], words["kit.burial.4"],
        ];
        IEnumerable<Markup[]> places = Enumerable.Range(0, 3).Select(_ => (Markup[])
            [.. PlaceHeads.Select(key => key == "hide" ? KitPage.Tick() : Markup.None), Markup.None]);
        bool hasTreatments = kit.Campaign.Treatments.Count > 0;
        string[] heads =
        [
            Column(kit, "hole"), "A", "B", Column(kit, "place"), Column(kit, "buried"), Column(kit, "depth"),
            .. hasTreatments ? [Column(kit, "treatment")] : Array.Empty<string>(), Column(kit, "notes"),
        ];
        return Markup.Of(
            $"""
            <div class="wide"><div class="beside"><div>{Top(kit, "bury", "kit.field.bring", kit.Campaign.Bury)}
            {KitPage.Steps(steps)}</div>
            <section class="sketch"><h2>{words["kit.burial.marks"]}</h2><div class="free"></div></section></div>
            {KitPage.Table("places", words["kit.sheet.places"],
                [.. PlaceHeads.Select(key => Column(kit, key)), words["kit.burial.allowed"]], places)}
            {KitPage.Table("holes", words["kit.column.hole"], heads,
                kit.HoleNumbers.Select(hole => Row(hole, heads.Length, KitPage.Tick(), KitPage.Tick())))}
            </div>

            """);
    }

    public static Markup Digging(GroupKit kit)
    {
        Phrases words = kit.Words;
        Markup states = Markup.Of($"{States.Select(state => KitPage.Tick(words[$"kit.word.condition.{state}"]))}");
        string[] heads = [.. DiggingHeads.Select(key => Column(kit, key))];
        string[] steps =
            [words["kit.digging.1"], words["kit.digging.2"], words["kit.digging.3"], words["kit.digging.4"], words["kit.digging.lost"]];
        return Markup.Of(
            $"""
            <div class="wide">{Top(kit, "dig", "kit.field.bring.dig", kit.Campaign.DigUp)}
            {KitPage.Steps(steps)}
            {KitPage.Table("holes states", words["kit.column.hole"], heads,
                kit.HoleNumbers.Select(hole => Row(hole, heads.Length, states, states)))}</div>

            """);
    }

    private static string Column(GroupKit kit, string key) => kit.Words[$"kit.column.{key}"];

    private static Markup[] Row(int hole, int cells, params Markup[] begun) =>
        [KitPage.Plain(hole), .. begun, .. Enumerable.Repeat(Markup.None, cells - 1 - begun.Length)];

    private static Markup Top(GroupKit kit, string what, string bring, DayRange? days)
    {
        Phrases words = kit.Words;
        string planned = days is null ? ""
            : words.Say("kit.of", words[$"kit.protocol.{what}"],
                words.Say("kit.protocol.days", words.Day(days.From), words.Day(days.To))) + ". ";
        return Markup.Of(
            $"""
            <p>{planned}{words[bring]}</p>
            <p class="safe-line">{KitPage.Tick(words["kit.field.safe"])}</p>
            {CautionsPage.Own(kit).Select(caution => Markup.Of($"<p class=\"warn\">{caution}</p>\n"))}
            """);
    }
}
