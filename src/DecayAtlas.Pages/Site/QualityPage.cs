namespace DecayAtlas.Pages.Site;

/// <summary>For the curator: what was found, by family and by group, each finding with its numbers, its record, and a decision to
/// copy.</summary>
internal static class QualityPage
{
    public const string Path = "quality.html", FlagsFile = "data/flags-0.js";

    // what stands in the page itself, for those without scripts; the script shows all
    private const int RowsInPage = 50;

    // what the script has at once; the rest is fetched when somebody looks further
    private const int FlagsAFile = 2000;

    public static string Write(Page page, PagesInputs inputs)
    {
        (Language words, ReleaseData data) = (page.Words, inputs.Data);
        Dictionary<string, FlagMeaning> meanings = inputs.FlagMeanings.ToDictionary(m => m.Code, StringComparer.Ordinal);
        Dictionary<string, string> groupOf =
            data.Contributions.ToDictionary(c => c.ContributionId, c => c.ContributorId, StringComparer.Ordinal);
        string FamilyOf(ReleasedFlag f) => meanings.TryGetValue(f.Code, out FlagMeaning? m) ? m.Family : "other";
        string[] families = [.. data.Flags.Select(FamilyOf).Distinct().Order(StringComparer.Ordinal)];
        string[] groups = [.. data.Flags.Select(f => groupOf.GetValueOrDefault(f.ContributionId, "")).Distinct()
            .Order(StringComparer.Ordinal)];
        ILookup<(string, string), ReleasedFlag> cells =
            data.Flags.ToLookup(f => (groupOf.GetValueOrDefault(f.ContributionId, ""), FamilyOf(f)));

        int files = (data.Flags.Count + FlagsAFile - 1) / FlagsAFile;
        string[] codes = [.. data.Flags.Select(f => f.Code).Distinct().Order(StringComparer.Ordinal)];
        Markup choices = Markup.Join(
        [
            Select("family", words["quality.family"], families, words.Word, words),
            Select("severity", words["quality.severity"], ["reject", "suspect", "note"], words.Word, words),
            Select("code", words["word.flag"], codes, v => v, words), Select("group", words["word.group"], groups, v => v, words),
        ]);

        Markup body = Markup.Of(
            $"""
            <h1>{words["quality.title"]}</h1><p class="lead">{words["quality.lead"]}</p>
            {(data.Flags.Count == 0 ? Markup.Of($"<p>{words["quality.nothing"]}</p>") : Markup.Of(
                $"""
                <section><h2>{words["quality.codes"]}</h2>
                {Frame.Table([Markup.Of($"{words["word.flag"]}"), Markup.Of($"{words["quality.family"]}"),
                    Markup.Of($"{words["quality.severity"]}"), Markup.Of($"{words["quality.count"]}"),
                        Markup.Of($"{words["quality.overruled"]}"), Markup.Of($"{words["quality.meaning"]}")],
                    data.Flags.GroupBy(f => f.Code, StringComparer.Ordinal).OrderBy(g => Rank(g.First().Severity))
                        .ThenByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).Select(g => (IReadOnlyList<Markup>)
                    [
                        Markup.Of($"<a href=\"#code={Uri.EscapeDataString(g.Key)}\">{g.Key}</a>"),
                        Markup.Of($"{words.Word(FamilyOf(g.First()))}"), Badge(words, g.First().Severity),
                        Markup.Of($"{words.Count(g.Count())}"), Markup.Of($"{words.Count(g.Count(f => f.OverruledBy is not null))}"),
                            FlagWords.Meaning(meanings.GetValueOrDefault(g.Key), words),
                    ]), words["quality.codes"])}</section>
                <section><h2>{words["quality.groups"]}</h2><p>{words["quality.groups.text"]}</p>
                {Frame.Table([Markup.Of($"{words["word.group"]}"), .. families.Select(f => Markup.Of($"{words.Word(f)}")),
                    Markup.Of($"{words["quality.all"]}")],
                    groups.Select(g => (IReadOnlyList<Markup>)
                    [
                        Markup.Of($"<a href=\"#group={Uri.EscapeDataString(g)}\">{g}</a>"),
                        .. families.Select(
                            f => cells[(g, f)].Count() is > 0 and int n
                                ? Markup.Of($"<a href=\"#group={Uri.EscapeDataString(g)}&amp;family={f}\">{words.Count(n)}</a>")
                                : Markup.Of($"<span class=\"nothing\">·</span>")),
                        Markup.Of($"{words.Count(families.Sum(f => cells[(g, f)].Count()))}"),
                    ]), words["quality.groups"], "numbers")}</section>
                <section id="all"><h2>{words["quality.flags"]}</h2><p>{words["quality.flags.text"]}</p>
                <form id="narrow" class="narrow" data-root="{page.Root}" data-flags="{data.Flags.Count}" data-files="{files}"
                  hidden>{choices}
                <label class="field"><span><input type="checkbox" name="open"> {words["quality.open"]}</span></label>
                <button type="reset" class="quiet">{words["map.reset"]}</button></form>
                <p id="flags-count" class="count" role="status" aria-live="polite"></p>
                <div class="scroll" tabindex="0" role="region" aria-label="{words["quality.flags"]}">
                <table id="flags"><thead><tr><th scope="col">{words["quality.severity"]}</th><th scope="col">{words["word.flag"]}</th>
                <th scope="col">{words["quality.record"]}</th><th scope="col">{words["quality.measured"]}</th>
                <th scope="col">{words["quality.limit"]}</th><th scope="col">{words["quality.explanation"]}</th>
                <th scope="col">{words["quality.decision"]}</th></tr></thead>
                <tbody>
                {data.Flags.Take(RowsInPage).Select(f => Row(page, data, f))}</tbody></table></div>
                <p><button type="button" id="flags-more" hidden>{words["quality.more"]}</button></p>
                <pre id="decision" class="decision" tabindex="0" hidden></pre></section>

                """))}
            {SetAside(page, inputs)}
            """);
        return Frame.Document(page, words["nav.quality"], body, "text broad",
            data.Flags.Count == 0 ? [] : [$"data/words-{words.Code}.js", "assets/say.js", "assets/quality.js", FlagsFile]);
    }

    /// <summary>Every flag for the script of the page, some thousand a file, in every language the same.</summary>
    public static IEnumerable<SiteFile> Scripts(PagesInputs inputs)
    {
        ReleaseData data = inputs.Data;
        Dictionary<string, ReleasedContribution> contributions =
            data.Contributions.ToDictionary(c => c.ContributionId, StringComparer.Ordinal);
        Dictionary<string, FlagMeaning> meanings = inputs.FlagMeanings.ToDictionary(m => m.Code, StringComparer.Ordinal);
        return data.Flags.Select(Row).Chunk(FlagsAFile)
            .Select((rows, number) => new SiteFile($"data/flags-{number}.js", Script.Call("atlasFlags", new object[] { rows })));

        object?[] Row(ReleasedFlag f) =>
        [
            f.Severity, f.Code, meanings.GetValueOrDefault(f.Code)?.Family ?? "other", f.ContributionId, f.RecordKind, f.RecordId,
            Script.Short(f.Measured), Script.Short(f.Limit), f.Unit,
            f.Explanation, f.OverruledBy,
                data.SiteOf(f), contributions.GetValueOrDefault(f.ContributionId)?.ContributorId
                    ?? "", contributions.GetValueOrDefault(f.ContributionId)?.Revision ?? 1, FileNames.OfContribution(f.ContributionId),
        ];
    }

    public static Markup Badge(Language words, string severity) =>
        Markup.Of($"<span class=\"badge {severity}\">{words.Word(severity)}</span>");

    private static int Rank(string severity) => severity switch { "reject" => 0, "suspect" => 1, _ => 2 };

    private static Markup Row(Page page, ReleaseData data, ReleasedFlag f)
    {
        Language words = page.Words;
        string to = data.SiteOf(f) is { } site ? page.ToSite(site) : page.To(FileNames.OfContribution(f.ContributionId));
        return Markup.Of($"<tr><td>{Badge(words, f.Severity)}</td><td>{f.Code}</td><td><a href=\"{to}\">{words.Word(f.RecordKind)} "
            + $"{f.RecordId}</a><br><a class=\"nothing\" href=\"{page.To(FileNames.OfContribution(f.ContributionId))}\">"
            + $"{f.ContributionId}</a></td><td>{words.Number(f.Measured)} {words.Unit(f.Unit)}</td><td>{words.Number(f.Limit)}</td><td>"
            + $"{FlagWords.Finding(f, words)}</td><td>{f.OverruledBy}</td></tr>\n");
    }

    private static Markup Select(string name, string label, IReadOnlyList<string> values, Func<string, string> say, Language words) =>
        Markup.Of(
        $"<div class=\"field\"><label for=\"q-{name}\">{label}</label><select id=\"q-{name}\" name=\"{name}\"><option "
        + $"value=\"\">{words["map.any"]}</option>{values.Select(v =>
            Markup.Of($"<option value=\"{v}\">{say(v)}</option>"))}</select></div>");

    private static Markup SetAside(Page page, PagesInputs inputs)
    {
        Language words = page.Words;
        return Markup.Of(
            $"""
            <section id="waiting"><h2>{words["quality.waiting"]}</h2>
            {(inputs.SetAside.Count == 0 ? Markup.Of($"<p>{words["quality.waiting.none"]}</p>") : Frame.Table(
                [Markup.Of($"{words["word.contribution"]}"), Markup.Of($"{words["quality.count"]}"),
                Markup.Of($"{words["quality.first"]}")],
                inputs.SetAside.Select(s => (IReadOnlyList<Markup>)
                [
                    Markup.Of($"<a href=\"{page.To(WaitingPage.FileOf(s))}\">{s.ContributionId ?? s.ShortHash}</a>"),
                        Markup.Of($"{words.Count(s.Findings.Count)}"),
                    s.Findings is [var first, ..]
                        ? Markup.Of($"{FindingWords.Where(first, null, words)}: {FlagWords.Expected(first, words)}") : Markup.None,
                ]), words["quality.waiting"]))}</section>

            """);
    }
}
