namespace DecayAtlas.Pages.Site;

/// <summary>How far single retrievals can be trusted, and what other suppositions would do; as far as the release answers that.</summary>
internal static class AnswersSection
{
    // limits from fewer series are themselves very uncertain (common practice, no source)
    private const int FewSeries = 20;

    public static Markup Write(Language words, ReleasedAnswers answers) =>
        Markup.Of($"{Agreement(words, answers.Agreement, Without(answers, "agreement", "k")?.Agreement)}{Calibration(
            words, answers.Calibration, Without(answers, "calibration", "s")?.Calibration)}{Sensitivity(words, answers.Sensitivity)}");

    // what changes nothing is said once at the head of the page
    private static ReleasedAnswers? Without(ReleasedAnswers answers, string answer, string of) =>
        answers.ChangesWithoutNoted(answer, of) ? answers.WithoutNoted : null;

    /// <summary>How far one retrieval can be trusted, by the series of the release.</summary>
    private static Markup Agreement(Language words, ReleasedAgreement? agreement, ReleasedAgreement? withoutNoted)
    {
        if (agreement is null)
            return Markup.None;
        string title = words["agreement.title"];
        if (agreement is not
            { Ratio: { } ratio, RatioLower95: { } lower, RatioUpper95: { } upper, LowerLimit: { } from, UpperLimit: { } to })
        {
            return Markup.Of($"<section id=\"agreement\"><h2>{title}</h2><p>{words["agreement.none"]}</p></section>\n");
        }

        object[] numbers = [.. new[] { ratio, lower, upper, from, to }.Select(v => words.Number(v, "0.00"))];
        Markup said = words.Rich(lower <= 1 && upper >= 1 ? "agreement.same" : "agreement.off", numbers);
        return Markup.Of(
            $"""
            <section id="agreement"><h2>{title}</h2><p>{words.Rich("agreement.text", agreement.Series)}</p>
            <figure class="figure slim">{PageCharts.Ratio(ratio, lower, upper, from, to, words)}
            <figcaption><span class="sample"><span class="key own"></span>{words["agreement.mean"]}</span> <span class="sample"><span
              class="key wide"></span>{words["agreement.limits"]}</span></figcaption></figure>
            <p>{said}{Markup.If(agreement.Series < FewSeries, $" {words["agreement.few"]}")}{Markup.If(
                withoutNoted is { Ratio: not null }, $" {words.Say("noted.agreement",
                    withoutNoted?.Series, words.Number(withoutNoted?.Ratio, "0.00"), words.Number(withoutNoted?.RatioLower95, "0.00"),
                    words.Number(withoutNoted?.RatioUpper95, "0.00"))}")}</p></section>

            """);
    }

    /// <summary>Whether both litters have one S, which a k from one retrieval takes for granted.</summary>
    private static Markup Calibration(Language words, ReleasedCalibration? calibration, ReleasedCalibration? withoutNoted)
    {
        if (calibration is not { Difference: { } difference, DifferenceLower95: { } lower, DifferenceUpper95: { } upper })
            return Markup.None;
        Markup factor = Markup.If(calibration.RateFactor is not null, $" {words.Rich("calibration.factor",
            words.Number(calibration.RateFactor, "0.00"), words.Number(calibration.RateFactorLower95, "0.00"),
            words.Number(calibration.RateFactorUpper95, "0.00"))}");
        return Markup.Of(
            $"""
            <section id="calibration"><h2>{words["calibration.title"]}</h2><p>{words.Rich("calibration.text", calibration.Series)}</p>
            <p>{words.Rich(calibration.Side == 0 ? "calibration.same" : "calibration.off", words.Number(difference, "0.000"),
                words.Number(lower, "0.000"), words.Number(upper, "0.000"))}{factor}{Markup.If(withoutNoted is { Difference: not null },
                    $" {words.Say("noted.calibration", withoutNoted?.Series, words.Number(withoutNoted?.Difference, "0.000"),
                        words.Number(withoutNoted?.DifferenceLower95, "0.000"),
                        words.Number(withoutNoted?.DifferenceUpper95, "0.000"))}")}</p>
            <p>{words.Rich("calibration.lots", words.Number(calibration.DifferenceLotUncertainty, "0.000"))}</p></section>

            """);
    }

    /// <summary>What would come out if something were otherwise than assumed: one line a supposition.</summary>
    private static Markup Sensitivity(Language words, IReadOnlyList<ReleasedSensitivity> rows) => Markup.If(rows.Count > 0,
        $"""
        <section id="sensitivity"><h2>{words["sensitivity.title"]}</h2><p>{words.Rich("sensitivity.text")}</p>
        {Frame.Table(words["sensitivity.title"],
            [words["sensitivity.supposed"], words.Rich("sensitivity.k"), words.Rich("sensitivity.s"), words["sensitivity.concerned"],
                words["sensitivity.pairs"]],
            rows.GroupBy(r => r.Supposition), g => Supposed(words, [.. g]), "supposed labelled")}</section>

        """);

    private static IReadOnlyList<Markup> Supposed(Language words, ReleasedSensitivity[] rows)
    {
        ReleasedSensitivity? Of(string quantity) => rows.FirstOrDefault(r => r.Quantity == quantity);
        double? ofRate = 100 * (Of("k")?.Median - 1), ofS = Of("s")?.Median;
        int concerned = Math.Max(Of("k")?.Concerned ?? 0, Of("s")?.Concerned ?? 0);
        int moved = Math.Max(Of("k")?.Gone ?? 0, Of("s")?.Gone ?? 0) + Math.Max(Of("k")?.Come ?? 0, Of("s")?.Come ?? 0);
        int pairs = rows.Where(r => r is { Changed: not null, IsOfPairs: true }).Sum(r => r.Compared ?? 0);
        int changed = rows.Where(r => r.IsOfPairs).Sum(r => r.Changed ?? 0);
        Markup supposed = words.FindText("sensitivity." + rows[0].Supposition) is { } known ? Markup.Of($"{known}")
            : Language.English(rows[0].Supposed);
        return
        [
            supposed, Side(words, ofRate, "0.0", words["number.percent"]), Side(words, ofS, "0.000", ""),
            words.Count(concerned) + (moved > 0 ? " " + words.Say("sensitivity.moved", words.Count(moved)) : ""),
            pairs == 0 ? words["sensitivity.none"] : words.Say("contribution.of", changed, pairs),
        ];
    }

    private static string Side(Language words, double? change, string format, string unit)
    {
        string size = words.Number(change is { } c ? Math.Abs(c) : null, format);
        return change is null ? words.Missing : size == words.Number(0, format) ? words["sensitivity.same"]
            : words.Say(change < 0 ? "sensitivity.lower" : "sensitivity.higher", size + unit);
    }
}
