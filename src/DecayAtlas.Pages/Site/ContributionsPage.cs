namespace DecayAtlas.Pages.Site;

/// <summary>Every contribution with what became of it, and the ways to its page and its class sheet.</summary>
internal static class ContributionsPage
{
    public const string Path = "contributions/index.html";

    public static string Write(Page page, PagesInputs inputs, ILookup<string, ReleasedBurial> burials, ILookup<string, ReleasedFlag> flags)
    {
        Language words = page.Words;
        string sheets = words["contributions.sheets"];
        Markup badge = QualityPage.Badge(words, "waiting");
        Markup waiting = Frame.List(inputs.SetAside.Select(s => Markup.Of(
            $"<a href=\"{page.To(WaitingPage.FileOf(s))}\">{WaitingPage.NameOf(s, inputs, words)}</a> {badge}")));
        Markup table = Frame.Table(words["contributions.title"],
            words.Texts("word.contribution", "word.group", "word.campaign", "overview.sites", "contributions.accepted",
                "contributions.flags", "contributions.sheets"),
            inputs.Data.Contributions, c =>
            [
                Markup.Of($"<a href=\"{page.To(FileNames.OfContribution(c.ContributionId))}\">{c.ContributionId}</a>"),
                GivenTitles.Over(inputs.Titles.Group(c.ContributorId), c.ContributorId),
                GivenTitles.Over(inputs.Titles.Campaign(c.Campaign, words), c.Campaign),
                words.Count(burials[c.ContributionId].Select(b => b.SiteKey)
                    .Union(inputs.Data.ResultsOfContribution[c.ContributionId].Select(r => r.SiteKey)).Count()),
                burials.Contains(c.ContributionId)
                    ? words.Say("contribution.of", burials[c.ContributionId].Count(b => b.GivesResult), burials[c.ContributionId].Count())
                    : words.Say("contributions.of-results", inputs.Data.ResultsOfContribution[c.ContributionId]
                        .Count(r => r.Use == "accepted"), inputs.Data.ResultsOfContribution[c.ContributionId].Count()),
                words.Count(GroupFlags.Of(flags[c.ContributionId], burials[c.ContributionId], inputs.FlagMeanings).Mend.Length),
                Markup.If(burials.Contains(c.ContributionId), $"<a href=\"{page.To(
                    ClassSheet.FileOf(c.ContributionId))}\" aria-label=\"{sheets}{words.Colon}{c.ContributionId}\">{sheets}</a>"),
            ], "numbers names labelled");
        Markup body = Markup.Of(
            $"""
            <h1>{words["contributions.title"]}</h1><p class="lead">{words["contributions.lead"]}</p>
            <p class="doors">{CheckBody.Door(page.To(CheckBody.Path), words)}<a class="door quiet" href="{page.To(
                ClassSheet.GeneralFile)}">{words["contributions.sheet"]}</a></p>
            {Markup.If(inputs.SetAside.Count > 0, $"""
                <section class="hint"><h2>{words["contributions.waiting"]}</h2>{waiting}</section>

                """)}
            <div id="find" class="find" hidden><label for="name">{words["contributions.find"]}</label><input type="search" id="name"
              autocomplete="off" spellcheck="false"><p id="found" class="nothing" role="status" aria-live="polite"
                data-say="{words["contributions.found"]}"></p></div>
            {table}
            """);
        return Frame.Document(page, words["nav.contributions"], body, "text", ["assets/find.js"]);
    }
}
