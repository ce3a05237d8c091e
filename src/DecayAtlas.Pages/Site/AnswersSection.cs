namespace DecayAtlas.Pages.Site;

/// <summary>Which groups of places decay faster, and where the scatter lies; as far as the release answers that.</summary>
internal static class AnswersSection
{
    // limits from fewer series are themselves very uncertain (common practice, no source)
    private const int FewSeries = 20;

    public static Markup Write(Language words, ReleasedAnswers answers) =>
        Markup.Of($"{Measured(words, answers)}{Sensitivity(words, answers.Sensitivity)}");

    private static Markup Measured(Language words, ReleasedAnswers answers) =>
        Markup.Of($"{Groups(words, answers)}{Agreement(words, answers.Agreement, answers.WithoutNoted?.Agreement)}{Calibration(
            words, answers.Calibration)}");

    private static Markup Groups(Language words, ReleasedAnswers answers)
    {
        IEnumerable<Markup> questions = answers.Comparisons.GroupBy(c => c.By).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => Question(words, g.Key, [.. g], answers.WithoutNoted?.Comparisons.Where(c => c.By == g.Key).ToArray()));
        return Markup.If(answers is not { Variance.Count: 0, Comparisons.Count: 0 },
            $"""
            <section><h2>{words["answers.title"]}</h2>
            {Scatter(words, answers.Variance)}{NotedScatter(words, answers)}
            {Markup.If(answers.Comparisons.Count > 0, $"<p>{words["answers.text"]}</p>\n")}<p>{NotInIntervals(
                words, answers.SharedShare)}</p>
            {questions}</section>

            """);
    }

    private static string NotInIntervals(Language words, double? share) => share is null ? words["answers.shared.unknown"]
        : words.Say("answers.shared", words.Percent(share));

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
                withoutNoted is { Ratio: not null } && withoutNoted.Series < agreement.Series, $" {words.Say("noted.agreement",
                    withoutNoted?.Series, words.Number(withoutNoted?.Ratio, "0.00"), words.Number(withoutNoted?.RatioLower95, "0.00"),
                    words.Number(withoutNoted?.RatioUpper95, "0.00"))}")}</p></section>

            """);
    }

    /// <summary>Whether both litters have one S, which a k from one retrieval takes for granted.</summary>
    private static Markup Calibration(Language words, ReleasedCalibration? calibration)
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
                words.Number(lower, "0.000"), words.Number(upper, "0.000"))}{factor}</p>
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
            rows.GroupBy(r => r.Supposition), g => Supposed(words, [.. g]), "supposed")}</section>

        """);

    private static IReadOnlyList<Markup> Supposed(Language words, ReleasedSensitivity[] rows)
    {
        ReleasedSensitivity? Of(string quantity) => rows.FirstOrDefault(r => r.Quantity == quantity);
        double? ofRate = 100 * (Of("k")?.Median - 1), ofS = Of("s")?.Median;
        int concerned = Math.Max(Of("k")?.Concerned ?? 0, Of("s")?.Concerned ?? 0);
        int moved = Math.Max(Of("k")?.Gone ?? 0, Of("s")?.Gone ?? 0) + Math.Max(Of("k")?.Come ?? 0, Of("s")?.Come ?? 0);
        int pairs = rows.Where(r => r.Changed is not null && r.Quantity != "covariates").Sum(r => r.Compared ?? 0);
        int changed = rows.Where(r => r.Quantity != "covariates").Sum(r => r.Changed ?? 0);
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

    private static Markup Scatter(Language words, IReadOnlyList<ReleasedVariance> levels)
    {
        BarValue[] bars = [.. levels.Select(l => new BarValue(words.Word(l.Level), 100 * l.Share!.Value))];
        return Markup.If(levels.Count > 0,
            $"""
            <p>{words.Rich("answers.scatter")}</p><figure class="figure slim">{PageCharts.Bars(
                bars, words["answers.share"], words, "0.0")}</figure>

            """);
    }

    private static Markup NotedScatter(Language words, ReleasedAnswers answers)
    {
        if (answers.Variance.Count == 0)
            return Markup.None;
        if (answers.WithoutNoted is not { } without)
            return Markup.Of($"<p>{words["noted.none"]}</p>\n");
        IEnumerable<string> levels = answers.Variance.Select(l => words.Say("noted.level", words.Word(l.Level),
            words.Number(without.Variance.FirstOrDefault(w => w.Level == l.Level)?.Variance, "0.0000"),
            words.Number(l.Variance, "0.0000")));
        return Markup.Of($"<p>{words.Rich("noted.variance", answers.NotedBurials, answers.NotedContributions,
            string.Join(", ", levels))}</p>\n");
    }

    /// <summary>Whether other pairs are told apart without noted burials, and which.</summary>
    private static string NotedPairs(Language words, ReleasedComparison[] pairs, ReleasedComparison[] without)
    {
        HashSet<(string?, string?, bool)> before = [.. Told(pairs)], after = [.. Told(without)];
        string[] others =
        [
            .. before.Except(after).Concat(after.Except(before)).Select(p => $"{words.Word(p.Item2)} / {words.Word(p.Item1)}").Distinct()
                .Order(StringComparer.Ordinal),
        ];
        return others.Length == 0 ? words["noted.same"] : words.Say("noted.pairs", after.Count, without.Length, string.Join(", ", others));

        static IEnumerable<(string?, string?, bool)> Told(ReleasedComparison[] of) =>
            of.Where(p => p.IsToldApart).Select(p => (p.First, p.Second, p.Ratio > 1));
    }

    private static Markup Question(Language words, string by, ReleasedComparison[] pairs, ReleasedComparison[]? withoutNoted)
    {
        // told apart first, then in order of name; the sentence says it all, for people and for machines that read it out
        IEnumerable<ReleasedComparison> ordered = pairs.OrderByDescending(p => p.IsToldApart)
            .ThenBy(p => p.First, StringComparer.Ordinal).ThenBy(p => p.Second, StringComparer.Ordinal);
        int apart = pairs.Count(p => p.IsToldApart);
        Markup table = Frame.Table(words.Word(by), [words["answers.pair"], words.Rich("answers.ratio"), words["answers.interval"], "P"],
            ordered, p =>
            [
                $"{words.Word(p.Second)} / {words.Word(p.First)}", words.Number(p.Ratio, "0.00"),
                $"{words.Number(p.Lower95, "0.00")} – {words.Number(p.Upper95, "0.00")}",
                p.HolmPValue is < 0.001 ? "< " + words.Number(0.001, "0.000") : words.Number(p.HolmPValue, "0.000"),
            ], "numbers");
        return Markup.Of(
            $"""
            <details{Markup.If(pairs.Length <= 6, $" open")}><summary>{words.Word(by)}: {words.Say(
                "answers.apart", apart, pairs.Length)}</summary>
            {table}{Markup.If(withoutNoted is not null, $"<p>{NotedPairs(words, pairs, withoutNoted ?? [])}</p>")}</details>

            """);
    }
}
