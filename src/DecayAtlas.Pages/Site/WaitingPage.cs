using DecayAtlas.Pages.Html;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

/// <summary>For the people whose contribution was set aside: where to look, what was expected, what to do. Not what was found: the page may be public.</summary>
internal static class WaitingPage
{
    public static string FileOf(SetAsideFacts aside) => $"contributions/waiting-{aside.ContentHash[..Math.Min(16, aside.ContentHash.Length)]}.html";

    public static string Write(Page page, PagesInputs inputs, SetAsideFacts aside)
    {
        Language words = page.Words;
        string name = aside.ContributionId ?? words.Say("waiting.unnamed", aside.ContentHash[..12]);
        bool hasAccepted = aside.ContributionId is { } id && inputs.Data.Contributions.Any(c => c.Id == id);
        Markup body = Markup.Of(
            $"""
            <p class="over"><a href="{page.To(ContributionsPage.Path)}">{words["nav.contributions"]}</a></p>
            <h1>{name}</h1>
            <p class="lead verdict"><span class="badge waiting">{words["word.waiting"]}</span> {words["waiting.text"]}</p>
            {(hasAccepted ? Markup.Of($"<p class=\"hint\"><a href=\"{page.To(ContributionPage.FileOf(aside.ContributionId!))}\">{words["waiting.accepted-before"]}</a></p>") : Markup.None)}
            <section><h2>{words["contribution.mend"]}</h2>
            {Frame.Table([Markup.Of($"{words["waiting.where"]}"), Markup.Of($"{words["waiting.expected"]}"), Markup.Of($"{words["waiting.mend"]}")],
                aside.ToMend.Take(200).Select(m => (IReadOnlyList<Markup>)[Markup.Of($"{Where(m, words)}"), FlagWords.Expected(m, words), FlagWords.ToDo(m, words)]), words["contribution.mend"])}
            {(aside.ToMend.Count > 200 ? Markup.Of($"<p class=\"nothing\">{words.Say("overview.more", aside.ToMend.Count - 200)}</p>") : Markup.None)}<p>{words["waiting.not-shown"]}</p></section>
            <section><h2>{words["waiting.next"]}</h2><ol><li>{words["waiting.step1"]}</li><li>{words["waiting.step2"]} <code>decayatlas check PATH</code></li><li>{words["waiting.step3"]}</li></ol></section>
            """);
        return Frame.Document(page, name, body);
    }

    private static string Where(ToMend m, Language words) => string.Join(", ", new[]
    {
        m.File ?? words["waiting.file"], m.Sheet is { } sheet ? words.Say("waiting.sheet", sheet) : null, m.Row is { } row ? words.Say("waiting.row", row) : null, m.Column is { } column ? words.Say("waiting.column", column) : null,
    }.OfType<string>());
}
