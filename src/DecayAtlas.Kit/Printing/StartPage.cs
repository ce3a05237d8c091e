namespace DecayAtlas.Kit.Printing;

/// <summary>What is in the folder, in which order it is used, and how it goes back.</summary>
internal static class StartPage
{
    public static Markup Of(GroupKit kit)
    {
        Phrases words = kit.Words;
        Markup[] steps =
        [
            Step("cautions", words["kit.start.read"]), Step("experiment", words["kit.start.guess"]),
            // no empty bag was weighed with a label: it goes on after the first weighing
            Step("weighing", words["kit.start.weigh"]), Step("labels", words.Say("kit.start.label", 2 * kit.Holes)),
            Step("burial", words["kit.start.bury"]), Step("digging", words["kit.start.dig"]),
            Markup.Of($"<a href=\"sheet.xlsx\"><b>sheet.xlsx</b></a> {words["kit.start.sheet"]}"),
            .. CheckInOneFile.IsThere ? [Markup.Of($"<a href=\"{CheckInOneFile.FileName}\"><b>{words["drop.title"]}</b></a> {words[
                "kit.start.check.here"]}")] : Array.Empty<Markup>(),
            Markup.Of($"<b>{words["kit.start.send"]}</b> {kit.HandIn}"),
        ];
        IEnumerable<Markup> facts = kit.Protocol.Select(fact => Markup.Of($"<div><dt>{fact.What}</dt><dd>{fact.Said}</dd></div>"));
        return Markup.Of(
            $"""
            <p class="lead">{words.Say("kit.start.lead", kit.Holes)}</p>
            <h2>{words["kit.start.order"]}</h2>
            <ol class="ways">{steps.Select(step => Markup.Of($"<li>{step}</li>\n"))}</ol>
            <p class="hint">{Markup.If(!CheckInOneFile.IsThere, $"{words["kit.start.check.ask"]} ")}{words[
                "kit.start.check.command"]} <code>decayatlas check sheet.xlsx --language {words.Code}</code></p>
            <h2>{words["kit.protocol"]}</h2>
            <dl class="facts">{facts}</dl>
            <p>{words.Say("kit.start.print", kit.Paper.Name)}</p>

            """);

        Markup Step(string page, string what) => KitPage.All.First(p => p.Name == page) is var to
            ? Markup.Of($"<a href=\"{to.File}\"><b>{to.TitleIn(words)}</b></a> {what}") : Markup.None;
    }
}
