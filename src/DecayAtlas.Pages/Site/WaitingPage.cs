namespace DecayAtlas.Pages.Site;

/// <summary>For the people whose contribution was set aside: where to look, what was expected, what to do. Not what was found: the page may
/// be public.</summary>
internal static class WaitingPage
{
    public static string FileOf(PublicIntake aside) => $"contributions/waiting-{aside.ContentHash![..16]}.html";

    public static string Write(Page page, PagesInputs inputs, PublicIntake aside)
    {
        Language words = page.Words;
        bool isKit = aside.Format == ContributionFormat.Kit;
        string name = NameOf(aside, inputs, words);
        bool hasAccepted = aside.ContributionId is { } id && inputs.Data.Contributions.Any(c => c.ContributionId == id);
        // the same slip in twenty rows is one thing to mend
        PublicFinding[][] together =
            [.. aside.Findings.GroupBy(f => (f.Part, f.Table, f.Column, f.OfKit, f.Place, f.Code)).Select(g => g.ToArray())];
        Markup body = Markup.Of(
            $"""
            <p class="over"><a href="{page.To(ContributionsPage.Path)}">{words["nav.contributions"]}</a></p>
            <h1>{name}</h1>
            {Markup.If(aside.ContributionId is { } known && known != name, $"""
                <p class="nothing">{aside.ContributionId}</p>

                """)}            <p class="lead verdict">{QualityPage.Badge(words, "waiting")} {words["waiting.text"]}</p>
            {Markup.If(hasAccepted, $"""
                <p class="hint"><a href="{page.To(
                    FileNames.OfContribution(aside.ContributionId!))}">{words["waiting.accepted-before"]}</a></p>
                """)}
            <section><h2>{words["contribution.mend"]}</h2>
            {Frame.Table(words["contribution.mend"], words.Texts("waiting.where", "waiting.expected", "waiting.mend"),
                together.Take(200), g =>
                [
                    isKit ? FindingWords.WhereInKit(g[0], RowsOf(g), words) : FindingWords.Where(g[0], RowsOf(g), words),
                    isKit ? words["finding." + g[0].Code] : FlagWords.Expected(g[0], words), FindingWords.ToDo(g[0], words),
                ], "stacked")}
            {Frame.More(together.Length - 200, words)}<p>{words["waiting.not-shown"]}</p>
            <p class="doors">{CheckBody.Door(page.To(CheckBody.Path), words)}</p></section>
            <section><h2>{words["waiting.next"]}</h2><ol><li>{words["waiting.step1"]}</li>
            <li>{words.Say("waiting.step2", words["drop.title"])}</li>
            <li>{words.Say("waiting.step3", FindingWords.VersionIn(aside.Format, words))}</li></ol></section>
            """);
        return Frame.Document(page, name, body);

        string? RowsOf(PublicFinding[] same) => FindingWords.Rows(same.Select(f => f.Row), words);
    }

    /// <summary>The group that sent it where the curator knows it, else its id, else the digits by which it is found.</summary>
    public static string NameOf(PublicIntake aside, PagesInputs inputs, Language words) =>
        inputs.GroupsOfSetAside.GetValueOrDefault(aside.ContentHash!) ?? aside.ContributionId
            ?? words.Say("waiting.unnamed", aside.ShortHash);
}
