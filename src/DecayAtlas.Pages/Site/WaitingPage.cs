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
        bool hasAccepted = aside.ContributionId is { } id && inputs.Data.Contributions.Any(c => c.ContributionId == id);
        // the same slip in twenty rows is one thing to mend
        var together = aside.ToMend.GroupBy(m => (m.File, m.Sheet, m.Column, m.Code, Advice: m.Code.Length == 0 || m.Row is null ? m.Expected + m.Mend : "")).ToArray();
        Markup body = Markup.Of(
            $"""
            <p class="over"><a href="{page.To(ContributionsPage.Path)}">{words["nav.contributions"]}</a></p>
            <h1>{name}</h1>
            <p class="lead verdict"><span class="badge waiting">{words["word.waiting"]}</span> {words["waiting.text"]}</p>
            {(hasAccepted ? Markup.Of($"<p class=\"hint\"><a href=\"{page.To(ContributionPage.FileOf(aside.ContributionId!))}\">{words["waiting.accepted-before"]}</a></p>") : Markup.None)}
            <section><h2>{words["contribution.mend"]}</h2>
            {Frame.Table([Markup.Of($"{words["waiting.where"]}"), Markup.Of($"{words["waiting.expected"]}"), Markup.Of($"{words["waiting.mend"]}")],
                together.Take(200).Select(g => (IReadOnlyList<Markup>)[Markup.Of($"{Where(g.Key.File, g.Key.Sheet, [.. g.Select(m => m.Row).OfType<int>()], g.Key.Column, words)}"), FlagWords.Expected(g.First(), words), FlagWords.ToDo(g.First(), words)]), words["contribution.mend"])}
            {(together.Length > 200 ? Markup.Of($"<p class=\"nothing\">{words.Say("overview.more", together.Length - 200)}</p>") : Markup.None)}<p>{words["waiting.not-shown"]}</p></section>
            <section><h2>{words["waiting.next"]}</h2><ol><li>{words["waiting.step1"]}</li><li>{words["waiting.step2"]} <code>decayatlas check PATH</code></li><li>{words["waiting.step3"]}</li></ol></section>
            """);
        return Frame.Document(page, name, body);
    }

    private static string Where(string? file, string? sheet, int[] rows, string? column, Language words) => string.Join(", ", new[]
    {
        file ?? words["waiting.file"], sheet is null ? null : words.Say("waiting.sheet", sheet),
        rows.Length == 0 ? null : rows.Length == 1 ? words.Say("waiting.row", rows[0]) : words.Say("waiting.rows", Stretches(rows)),
        column is null ? null : words.Say("waiting.column", column),
    }.OfType<string>());

    /// <summary>Numbers as people write them: 2–21, 25.</summary>
    internal static string Stretches(IEnumerable<int> numbers)
    {
        var stretches = new List<(int From, int To)>();
        foreach (int n in numbers.Distinct().Order())
        {
            if (stretches.Count > 0 && stretches[^1].To == n - 1)
                stretches[^1] = (stretches[^1].From, n);
            else
                stretches.Add((n, n));
        }

        return string.Join(", ", stretches.Take(12).Select(s => s.From == s.To ? $"{s.From}" : $"{s.From}–{s.To}")) + (stretches.Count > 12 ? ", …" : "");
    }
}
