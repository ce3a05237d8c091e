using DecayAtlas.Pages.Charts;
using DecayAtlas.Pages.Html;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

/// <summary>Which groups of places decay faster, and where the scatter lies; as far as the release answers that.</summary>
internal static class AnswersSection
{
    public static Markup Write(Language words, ReleasedAnswers answers) => answers is { Variance.Count: 0, Comparisons.Count: 0 } ? Markup.None : Markup.Of(
        $"""
        <section><h2>{words["answers.title"]}</h2>
        {Scatter(words, answers.Variance)}
        {(answers.Comparisons.Count == 0 ? Markup.None : Markup.Of($"<p>{words["answers.text"]}</p>\n"))}{answers.Comparisons.GroupBy(c => c.By, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => Question(words, g.Key, [.. g]))}</section>

        """);

    private static Markup Scatter(Language words, IReadOnlyList<VarianceFacts> levels) => levels.Count == 0 ? Markup.None : Markup.Of(
        $"""
        <p>{words.Rich("answers.scatter")}</p><figure class="figure slim">{Bars.Draw([.. levels.Select(l => new Bar(words.Word(l.Level), 100 * l.Share!.Value))], words["answers.share"], words)}</figure>

        """);

    private static Markup Question(Language words, string by, ComparisonFacts[] pairs)
    {
        // told apart first, then in order of name; the sentence says it all, for people and for machines that read it out
        ComparisonFacts[] ordered = [.. pairs.OrderByDescending(p => p.HolmP < 0.05).ThenBy(p => p.First, StringComparer.Ordinal).ThenBy(p => p.Second, StringComparer.Ordinal)];
        int apart = pairs.Count(p => p.HolmP < 0.05);
        return Markup.Of(
            $"""
            <details{(ordered.Length <= 6 ? Markup.Trusted(" open") : Markup.None)}><summary>{words.Word(by)}: {words.Say("answers.apart", apart, pairs.Length)}</summary>
            {Frame.Table([Markup.Of($"{words["answers.pair"]}"), words.Rich("answers.ratio"), Markup.Of($"{words["answers.interval"]}"), Markup.Of($"P")],
                ordered.Select(p => (IReadOnlyList<Markup>)
                [
                    Markup.Of($"{p.Second} / {p.First}"), Markup.Of($"{words.Number(p.Ratio, "0.00")}"), Markup.Of($"{words.Number(p.Lower95, "0.00")} – {words.Number(p.Upper95, "0.00")}"),
                    Markup.Of($"{(p.HolmP is < 0.001 ? "< " + words.Number(0.001, "0.000") : words.Number(p.HolmP, "0.000"))}"),
                ]), words.Word(by), "numbers")}</details>

            """);
    }
}
