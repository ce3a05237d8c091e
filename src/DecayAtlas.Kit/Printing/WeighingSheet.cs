namespace DecayAtlas.Kit.Printing;

/// <summary>Both weighings of every bag, on one sheet, so that it is there when the second comes.</summary>
internal static class WeighingSheet
{
    private static readonly string[] Weighings = ["fast-before", "fast-after", "slow-before", "slow-after", "notes"];

    public static Markup Of(GroupKit kit)
    {
        Phrases words = kit.Words;
        string[] steps =
        [
            words.Say("kit.weighing.1", kit.DryingInitial), words.Say("kit.weighing.2", kit.Basis), words["kit.weighing.label"],
            words.Say("kit.weighing.3", kit.Drying), words["kit.weighing.4"],
        ];
        string[] heads = [words["kit.column.hole"], .. Weighings.Select(key => words[$"kit.column.{key}"])];
        return Markup.Of(
            $"""
            {KitPage.Steps(steps)}
            {KitPage.Lines(1)}
            <p class="hint">{words["kit.caution.oven"]}</p>
            {KitPage.Table("holes weights", words["kit.sheet.holes"], heads,
                kit.HoleNumbers.Select(hole => (Markup[])[KitPage.Plain(hole), .. Enumerable.Repeat(Markup.None, Weighings.Length)]))}

            """);
    }
}
