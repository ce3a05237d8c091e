namespace DecayAtlas.Pages.Site;

/// <summary>Which groups of places decay faster, and where the scatter lies; as far as the release answers that.</summary>
internal static class AnswersSection
{
    // limits from fewer series are themselves very uncertain (common practice, no source)
    private const int FewSeries = 20;

    public static Markup Write(Language words, ReleasedAnswers answers) =>
        Markup.Of($"{Groups(words, answers)}{Agreement(words, answers.Agreement)}");

    private static Markup Groups(Language words, ReleasedAnswers answers) => answers is { Variance.Count: 0, Comparisons.Count: 0 }
        ? Markup.None : Markup.Of(
        $"""
        <section><h2>{words["answers.title"]}</h2>
        {Scatter(words, answers.Variance)}
        {(answers.Comparisons.Count == 0 ? Markup.None : Markup.Of($"<p>{words["answers.text"]}</p>\n"))}{answers.Comparisons
            .GroupBy(c => c.By, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => Question(words, g.Key, [.. g]))}</section>

        """);

    /// <summary>How far one retrieval can be trusted, by the series of the release.</summary>
    private static Markup Agreement(Language words, ReleasedAgreement? agreement) => agreement switch
    {
        null => Markup.None,
        { Ratio: { } ratio, RatioLower95: { } lower, RatioUpper95: { } upper, LowerLimit: { } from, UpperLimit: { } to } => Markup.Of(
            $"""
            <section id="agreement"><h2>{words["agreement.title"]}</h2><p>{words.Rich("agreement.text", agreement.Series)}</p>
            <figure class="figure slim">{PageCharts.Ratio(ratio, lower, upper, from, to, words)}
            <figcaption><span class="sample"><span class="key own"></span>{words["agreement.mean"]}</span> <span class="sample"><span
              class="key wide"></span>{words["agreement.limits"]}</span></figcaption></figure>
            <p>{words.Rich(lower <= 1 && upper >= 1 ? "agreement.same"
                : "agreement.off",
                    [.. new[] { ratio, lower, upper, from,
                        to }.Select(v =>
                            words.Number(v, "0.00"))])}{(agreement.Series < FewSeries ? " " + words["agreement.few"] : "")}</p></section>

            """),
        _ => Markup.Of($"<section id=\"agreement\"><h2>{words["agreement.title"]}</h2><p>{words["agreement.none"]}</p></section>\n"),
    };

    private static Markup Scatter(Language words, IReadOnlyList<ReleasedVariance> levels) => levels.Count == 0 ? Markup.None : Markup.Of(
        $"""
        <p>{words.Rich(
            "answers.scatter")}</p><figure class="figure slim">{PageCharts.Bars([
                .. levels.Select(l => new BarValue(words.Word(l.Level), 100 * l.Share!.Value))], words["answers.share"], words,
                    "0.0")}</figure>

        """);

    private static Markup Question(Language words, string by, ReleasedComparison[] pairs)
    {
        // told apart first, then in order of name; the sentence says it all, for people and for machines that read it out
        ReleasedComparison[] ordered = [.. pairs.OrderByDescending(p => p.HolmPValue < 0.05).ThenBy(p => p.First, StringComparer.Ordinal)
            .ThenBy(p => p.Second, StringComparer.Ordinal)];
        int apart = pairs.Count(p => p.HolmPValue < 0.05);
        return Markup.Of(
            $"""
            <details{(ordered.Length <= 6 ? Markup.Trusted(" open") : Markup.None)}><summary>{words.Word(by)}: {words.Say("answers.apart",
                apart, pairs.Length)}</summary>
            {Frame.Table([Markup.Of($"{words["answers.pair"]}"), words.Rich("answers.ratio"), Markup.Of($"{words["answers.interval"]}"),
                Markup.Of($"P")],
                ordered.Select(p => (IReadOnlyList<Markup>)
                [
                    Markup.Of($"{words.Word(p.Second)} / {words.Word(p.First)}"), Markup.Of($"{words.Number(p.Ratio, "0.00")}"),
                    Markup.Of($"{words.Number(p.Lower95, "0.00")} – {words.Number(p.Upper95, "0.00")}"),
                    Markup.Of($"{(p.HolmPValue is < 0.001 ? "< " + words.Number(0.001, "0.000") : words.Number(p.HolmPValue, "0.000"))}"),
                ]), words.Word(by), "numbers")}</details>

            """);
    }
}
