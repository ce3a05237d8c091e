namespace DecayAtlas.Pages.Site;

/// <summary>What differs, by how much, how sure that is, and what may not be concluded, for k and for S.</summary>
internal static class AnswersPage
{
    public const string Path = "answers.html";

    private static readonly string[] NotConcluded = ["why", "alike", "overlap", "own"];

    public static string Write(Page page, PagesInputs inputs)
    {
        (Language words, ReleasedAnswers answers) = (page.Words, inputs.Answers);
        (int made, int standing) = ReleasedComparison.CountOf(answers.Comparisons);
        Markup body = Markup.Of(
            $"""
            <h1>{words["answers.title"]}</h1>
            <p class="lead">{words.Rich("answers.lead")}</p>
            {Markup.If(answers is { Variance.Count: 0, Comparisons.Count: 0 }, $"<p>{words["answers.none"]}</p>\n")}
            {Markup.If(made > 0, $"""
                <p>{words.Rich("answers.family", made, standing,
                answers.Comparisons.Count(c => c.IsToldApartInItsQuestion))} <small>(<code>comparisons.p_holm</code>)</small></p>

                """)}{Noted(words, answers)}
            {Asked.All.Select(of => Quantity(words, answers, of))}{SlopesSection.Write(inputs, words)}
            <section id="not"><h2>{words["answers.not"]}</h2>
            {Frame.List(NotConcluded.Select(n => words.Rich("answers.not." + n)))}</section>
            {AnswersSection.Write(words, answers)}
            """);
        return Frame.Document(page, words["nav.answers"], body);
    }

    /// <summary>What noted burials do to the answers, once for all of them.</summary>
    private static Markup Noted(Language words, ReleasedAnswers answers)
    {
        if (answers.Noted.MaxBy(n => n.NotedBurials) is not { } most)
            return Markup.None;
        int changed = answers.Noted.Count(n => n.ConclusionChanges);
        string said = most.NotedBurials == 0 ? words["noted.none"]
            : words.Say(changed == 0 ? "noted.same" : "noted.changes", most.NotedBurials, most.NotedContributions, changed,
                answers.Noted.Count);
        return Markup.Of($"<p>{said}</p>\n");
    }

    /// <summary>In a few words, for the front page.</summary>
    public static Markup Pointer(Page page, ReleasedAnswers answers)
    {
        Language words = page.Words;
        return Markup.If(answers.Comparisons.Count > 0,
            $"""
            <section><h2>{words["answers.title"]}</h2>
            {Frame.List(Asked.All.Select(of => (Of: of, Pairs: answers.Comparisons.Where(c => c.Of == of.Code).ToArray()))
                .Where(q => q.Pairs.Length > 0)
                .Select(q => words.Rich("answers.pointer." + q.Of.Code, Apart(words, q.Pairs.Count(p => p.IsToldApart), q.Pairs.Length))))}
            <p><a class="door quiet" href="{page.To(Path)}">{words["answers.pointer"]}</a></p></section>

            """);
    }

    private static Markup Quantity(Language words, ReleasedAnswers answers, Asked of)
    {
        ReleasedVariance[] levels = [.. answers.Variance.Where(v => v.Of == of.Code)];
        ReleasedComparison[] pairs = [.. answers.Comparisons.Where(c => c.Of == of.Code)];
        IEnumerable<Markup> questions = pairs.GroupBy(c => c.By).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => Question(
            words, of, g.Key, [.. g], [.. answers.Groups.Where(x => x.Of == of.Code && x.By == g.Key)], answers));
        return Markup.If(levels.Length + pairs.Length > 0,
            $"""
            <section id="{of.Code}"><h2>{words.Rich("answers." + of.Code)}</h2>
            <p>{words.Rich("answers.text." + of.Code)}</p>
            {questions}
            {Scatter(words, of, levels)}{NotedScatter(words, answers, of, levels)}</section>

            """);
    }

    private static Markup Question(Language words, Asked of, string by, ReleasedComparison[] pairs, ReleasedGroup[] groups,
        ReleasedAnswers answers)
    {
        ReleasedComparison[] withoutNoted = [.. (answers.WithoutNoted?.Comparisons ?? []).Where(c => c.Of == of.Code && c.By == by)];
        ReleasedGroup[] sorted = [.. groups.OrderByDescending(g => g.Mean).ThenBy(g => g.Group, StringComparer.Ordinal)];
        return Markup.Of(
            $"""
            <details open><summary>{words.Word(by)}{words.Colon}{Apart(words, pairs.Count(p => p.IsToldApart), pairs.Length)}</summary>
            <figure class="figure wide-picture">{PageCharts.Groups(
                sorted, words["answers.axis." + of.Code], of.Format, of.IsRate, words)}
            <figcaption>{words.Rich("answers.groups")}</figcaption></figure>
            {Matrix(words, of, by, sorted, pairs)}{Pairs(words, of, by, sorted, pairs)}
            {Markup.If(answers.ChangesWithoutNoted(by, of.Code), $"<p>{NotedPairs(words, of, pairs, withoutNoted)}</p>")}</details>

            """);
    }

    /// <summary>How many pairs are told apart, after a colon.</summary>
    private static string Apart(Language words, int told, int all) => words.Say("answers.apart" + (told, all) switch
    {
        (0, 1) => ".lone-not",
        (1, 1) => ".lone",
        (0, _) => ".none",
        (1, _) => ".one",
        _ => told == all ? ".all" : "",
    }, told, all);

    /// <summary>Row over column (k) or row less column (S), in the order of the means; in bold what is told apart among all pairs of the
    /// release.</summary>
    private static Markup Matrix(Language words, Asked of, string by, ReleasedGroup[] groups, ReleasedComparison[] pairs)
    {
        Dictionary<(string, string), ReleasedComparison> known = pairs.ToDictionary(p => (p.Second!, p.First!));
        return Markup.Of(
            $"""
            <div class="on-wide">{Frame.Table(words.Say("answers.matrix.name", words.Word(by)),
                [words.Rich("answers.matrix." + of.Code), .. groups.Skip(1).Select(g => Markup.Of($"{words.Word(g.Group)}"))],
                groups.Take(groups.Length - 1).Select((g, i) => (Group: g, Row: i)), r =>
                [
                    Markup.Of($"{words.Word(r.Group.Group)}"),
                    .. groups.Skip(1).Select((g, j) => j < r.Row ? Markup.None
                        : known.TryGetValue((r.Group.Group, g.Group), out ReleasedComparison? pair) ? Cell(words, of, pair) : Markup.None),
                ], "numbers matrix")}
            <p class="nothing">{words.Rich("answers.matrix.text." + of.Code, pairs[0].FamilySize)}</p></div>

            """);
    }

    /// <summary>The same pairs one below the other, those told apart first, where a screen or a sheet of paper is too narrow for the
    /// matrix.</summary>
    private static Markup Pairs(Language words, Asked of, string by, ReleasedGroup[] groups, ReleasedComparison[] pairs)
    {
        Dictionary<string, int> place = groups.Select((g, i) => (g.Group, i)).ToDictionary(g => g.Group, g => g.i);
        ILookup<bool, ReleasedComparison> told = pairs.OrderBy(p => place.GetValueOrDefault(p.Second!))
            .ThenByDescending(p => place.GetValueOrDefault(p.First!))
            .ToLookup(p => p.IsToldApart);
        return Markup.Of(
            $"""
            <div class="pairs"><p class="nothing">{words.Rich("answers.pairs.text." + of.Code, pairs[0].FamilySize)}</p>
            {Of(true, "answers.pairs.told")}{Of(false, "answers.pairs.not")}</div>

            """);

        Markup Of(bool isToldApart, string key) => Markup.If(told[isToldApart].Any(),
            $"""
            <details{Markup.If(isToldApart || !told[true].Any(), $" open")}><summary>{words.Say(
                key, told[isToldApart].Count())}</summary><ul>{told[isToldApart].Select(p => Markup.Of(
                $"<li><span>{words.Word(p.Second)} {(of.IsRate ? "/" : "−")} {words.Word(p.First)}</span> <span class=\"whole\">{Cell(
                    words, of, p)}</span></li>\n"))}</ul></details>

            """);
    }

    private static Markup Cell(Language words, Asked of, ReleasedComparison pair)
    {
        string value = words.Number(pair.Contrast, of.ContrastFormat),
            interval = $"{words.Number(pair.Lower95, of.ContrastFormat)} – {words.Number(pair.Upper95, of.ContrastFormat)}";
        return pair.IsToldApart ? Markup.Of($"<strong>{value}</strong> <small>{interval}</small>")
            : Markup.Of($"{value} <small>{interval}</small>");
    }

    private static Markup Scatter(Language words, Asked of, ReleasedVariance[] levels)
    {
        BarValue[] bars = [.. levels.Select(l => new BarValue(words.Word(l.Level), 100 * l.Share!.Value))];
        return Markup.If(levels.Length > 0,
            $"""
            <p>{words.Rich("answers.scatter." + of.Code)}</p><figure class="figure slim">{PageCharts.Bars(
                bars, new Axis(words["answers.share." + of.Code]), words, "0.0")}</figure>

            """);
    }

    private static Markup NotedScatter(Language words, ReleasedAnswers answers, Asked of, ReleasedVariance[] variance)
    {
        if (variance.Length == 0 || !answers.ChangesWithoutNoted("variance", of.Code) || answers.WithoutNoted is not { } without)
            return Markup.None;
        // what is the same at the digits shown is no change
        string[] levels =
        [
            .. from l in variance
               let now = words.Number(l.Variance, "0.0000")
               let other = words.Number(
                   without.Variance.FirstOrDefault(w => w.Of == of.Code && w.Level == l.Level)?.Variance, "0.0000")
               where now != other
               select words.Say("noted.level", words.Word(l.Level), other, now),
        ];
        return Markup.If(levels.Length > 0, $"<p>{words.Rich("noted.variance." + of.Code, string.Join(", ", levels))}</p>\n");
    }

    /// <summary>Whether other pairs are told apart without noted burials, and which.</summary>
    private static string NotedPairs(Language words, Asked of, ReleasedComparison[] pairs, ReleasedComparison[] without)
    {
        // in the order of the means, so that another order is another pair
        HashSet<(string?, string?)> before = [.. Told(pairs)], after = [.. Told(without)];
        string[] others =
        [
            .. before.Except(after).Concat(after.Except(before))
                .Select(p => $"{words.Word(p.Item2)} {(of.IsRate ? "/" : "−")} {words.Word(p.Item1)}").Distinct()
                .Order(StringComparer.Ordinal),
        ];
        return words.Say("noted.pairs", Apart(words, after.Count, without.Length), string.Join(", ", others));

        static IEnumerable<(string?, string?)> Told(ReleasedComparison[] of) =>
            of.Where(p => p.IsToldApart).Select(p => (p.First, p.Second));
    }

    /// <summary>k or S, and how it is written.</summary>
    private sealed record Asked(string Code, string Format, string ContrastFormat)
    {
        public static IReadOnlyList<Asked> All { get; } = [new("k", "0.0000", "0.00"), new("s", "0.000", "0.000")];

        public bool IsRate => Code == "k";
    }
}
