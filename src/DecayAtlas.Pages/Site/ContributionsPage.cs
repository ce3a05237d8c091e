namespace DecayAtlas.Pages.Site;

/// <summary>Every contribution with what became of it, and the ways to its page and its class sheet.</summary>
internal static class ContributionsPage
{
    public const string Path = "contributions/index.html";

    public static string Write(Page page, PagesInputs inputs, ILookup<string, ReleasedBurial> burials, ILookup<string, ReleasedFlag> flags)
    {
        Language words = page.Words;
        string sheets = words["contributions.sheets"];
        Markup body = Markup.Of(
            $"""
            <h1>{words["contributions.title"]}</h1><p class="lead">{words["contributions.lead"]}</p>
            <p class="doors"><a class="door quiet" href="{page.To(ClassSheet.GeneralFile)}">{words["contributions.sheet"]}</a></p>
            {(inputs.SetAside.Count == 0 ? Markup.None
                : Markup.Of($"<section class=\"hint\"><h2>{words["contributions.waiting"]}</h2><ul>"
                + $"{inputs.SetAside.Select(s => Markup.Of($"<li><a href=\"{page.To(WaitingPage.FileOf(s))}\">"
                + $"{s.ContributionId ?? words.Say("waiting.unnamed", s.ShortHash)}</a> <span class=\"badge "
                + $"waiting\">{words["word.waiting"]}</span></li>"))}</ul></section>\n"))}
            <div id="find" class="find" hidden><label for="name">{words["contributions.find"]}</label><input type="search" id="name"
              autocomplete="off" spellcheck="false"><p id="found" class="nothing" role="status" aria-live="polite"
                data-say="{words["contributions.found"]}"></p></div>
            {Frame.Table([Markup.Of($"{words["word.contribution"]}"), Markup.Of($"{words["word.group"]}"),
                Markup.Of($"{words["word.campaign"]}"), Markup.Of($"{words["overview.sites"]}"),
                    Markup.Of($"{words["contributions.accepted"]}"), Markup.Of($"{words["contributions.flags"]}"),
                        Markup.Of($"{words["contributions.sheets"]}")],
                inputs.Data.Contributions.Select(c => (IReadOnlyList<Markup>)
                [
                    Markup.Of($"<a href=\"{page.To(FileNames.OfContribution(c.ContributionId))}\">{c.ContributionId}</a>"),
                    Markup.Of($"{c.ContributorId}"), Markup.Of($"{c.Campaign}"),
                    Markup.Of($"{words.Count(burials[c.ContributionId].Select(b => b.SiteKey).Distinct().Count())}"),
                    Markup.Of($"{words.Say("contribution.of", burials[c.ContributionId].Count(b => b.IsAccepted), burials[c.ContributionId]
                        .Count())}"),
                    Markup.Of($"{words.Count(flags[c.ContributionId].Count(f => f.Severity != "note" && f.OverruledBy is null))}"),
                    Markup.Of($"<a href=\"{page.To(ClassSheet.FileOf(c.ContributionId))}\" aria-label=\"{sheets}: {c.ContributionId}\">"
                        + $"{sheets}</a>"),
                ]), words["contributions.title"], "numbers names")}
            """);
        return Frame.Document(page, words["nav.contributions"], body, "text broad", ["assets/find.js"]);
    }
}
