using DecayAtlas.Pages.Html;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

/// <summary>Every contribution with what became of it, and the ways to its page and its class sheet.</summary>
internal static class ContributionsPage
{
    public const string Path = "contributions/index.html";

    public static string Write(Page page, PagesInputs inputs, IReadOnlyList<GroupResult> results)
    {
        Language words = page.Words;
        Markup body = Markup.Of(
            $"""
            <h1>{words["contributions.title"]}</h1><p class="lead">{words["contributions.lead"]}</p>
            <p class="doors"><a class="door quiet" href="{page.To(ClassSheet.GeneralFile)}">{words["contributions.sheet"]}</a></p>
            {(inputs.SetAside.Count == 0 ? Markup.None : Markup.Of($"<section class=\"hint\"><h2>{words["contributions.waiting"]}</h2><ul>{inputs.SetAside.Select(s => Markup.Of($"<li><a href=\"{page.To(WaitingPage.FileOf(s))}\">{s.ContributionId ?? words.Say("waiting.unnamed", s.ContentHash[..12])}</a> <span class=\"badge waiting\">{words["word.waiting"]}</span></li>"))}</ul></section>\n"))}
            {Frame.Table([Markup.Of($"{words["word.contribution"]}"), Markup.Of($"{words["word.group"]}"), Markup.Of($"{words["word.campaign"]}"), Markup.Of($"{words["overview.sites"]}"), Markup.Of($"{words["contributions.accepted"]}"), Markup.Of($"{words["contributions.flags"]}"), Markup.Of($"{words["contributions.sheets"]}")],
                results.Select(r => (IReadOnlyList<Markup>)
                [
                    Markup.Of($"<a href=\"{page.To(ContributionPage.FileOf(r.Contribution.Id))}\">{r.Contribution.Id}</a>"), Markup.Of($"{r.Contribution.ContributorId}"), Markup.Of($"{r.Contribution.Campaign}"),
                    Markup.Of($"{words.Count(r.Sites.Count)}"), Markup.Of($"{words.Say("contribution.of", r.Accepted, r.Burials.Count)}"), Markup.Of($"{words.Count(r.Flags.Count(f => f.Severity != "note" && f.OverruledBy is null))}"),
                    Markup.Of($"<a href=\"{page.To(ClassSheet.FileOf(r.Contribution.Id))}\" aria-label=\"{words["contributions.sheets"]}: {r.Contribution.Id}\">{words["contributions.sheets"]}</a>"),
                ]), words["contributions.title"], "numbers")}
            """);
        return Frame.Document(page, words["nav.contributions"], body, "text broad");
    }
}
