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
        Dictionary<string, string> groupOf = data.Contributions.ToDictionary(c => c.ContributionId, c => c.ContributorId);
        string GroupOf(ReleasedFlag f) => groupOf.GetValueOrDefault(f.ContributionId, "");
        string FamilyOf(ReleasedFlag f) => inputs.MeaningOf(f.Code)?.Family ?? "other";
        string[] families = Each(FamilyOf), groups = Each(GroupOf);
        ILookup<(string, string), ReleasedFlag> cells = data.Flags.ToLookup(f => (GroupOf(f), FamilyOf(f)));
        int files = (data.Flags.Count + FlagsAFile - 1) / FlagsAFile;
        Markup[] choices =
        [
            Select("family", "quality.family", families, words.Word),
            Select("severity", "quality.severity", ["reject", "suspect", "note"], words.Word),
            Select("code", "word.flag", Each(f => f.Code), v => v), Select("group", "word.group", groups, inputs.Titles.Group),
        ];
        IEnumerable<IGrouping<string, ReleasedFlag>> codes = data.Flags.GroupBy(f => f.Code).OrderBy(g => Rank(g.First().Severity))
            .ThenByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal);

        Markup body = Markup.Of(
            $"""
            <h1>{words["quality.title"]}</h1><p class="lead">{words["quality.lead"]}</p>
            {(data.Flags.Count == 0 ? Markup.Of($"<p>{words["quality.nothing"]}</p>") : Markup.Of(
                $"""
                <section><h2>{words["quality.codes"]}</h2>
                {Frame.Table(words["quality.codes"],
                    words.Texts("word.flag", "quality.family", "quality.severity", "quality.count", "quality.overruled", "quality.meaning"),
                    codes, g =>
                    [
                        Markup.Of(
                            $"""
                            <a href="#code={Uri.EscapeDataString(g.Key)}">{g.Key}</a><p class="on-narrow">{FlagWords.Meaning(
                                inputs.MeaningOf(g.Key), words)}</p>
                            """), words.Word(FamilyOf(g.First())),
                        Badge(words, g.First().Severity), words.Count(g.Count()), words.Count(g.Count(f => f.OverruledBy is not null)),
                        FlagWords.Meaning(inputs.MeaningOf(g.Key), words),
                    ], "codes")}</section>
                <section><h2>{words["quality.groups"]}</h2><p>{words["quality.groups.text"]}</p>
                {Frame.Table(words["quality.groups"], [words["word.group"], .. families.Select(words.Word), words["quality.all"]],
                    groups, g =>
                    [
                        Markup.Of($"<a href=\"#group={Uri.EscapeDataString(g)}\">{GivenTitles.Over(inputs.Titles.Group(g), g)}</a>"),
                        .. families.Select(f => cells[(g, f)].Count() is > 0 and int n
                            ? Markup.Of($"<a href=\"#group={Uri.EscapeDataString(g)}&amp;family={f}\">{words.Count(n)}</a>")
                            : Markup.Of($"<span class=\"nothing\">·</span>")),
                        words.Count(families.Sum(f => cells[(g, f)].Count())),
                    ], "numbers")}</section>
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

        string[] Each(Func<ReleasedFlag, string> what) => [.. data.Flags.Select(what).Distinct().Order(StringComparer.Ordinal)];

        Markup Select(string name, string label, IEnumerable<string> values, Func<string, string> say)
        {
            IEnumerable<Markup> options = values.Select(v => Markup.Of($"<option value=\"{v}\">{say(v)}</option>"));
            return Markup.Of(
                $"""
                <div class="field"><label for="q-{name}">{words.Say(
                    label)}</label><select id="q-{name}" name="{name}"><option value="">{words["map.any"]}</option>{options}</select></div>
                """);
        }
    }

    /// <summary>Every flag for the script of the page, some thousand a file, in every language the same.</summary>
    public static IEnumerable<SiteFile> Scripts(PagesInputs inputs)
    {
        ReleaseData data = inputs.Data;
        Dictionary<string, ReleasedContribution> contributions = data.Contributions.ToDictionary(c => c.ContributionId);
        return data.Flags.Select(Row).Chunk(FlagsAFile)
            .Select((rows, number) => new SiteFile($"data/flags-{number}.js", Script.Call("atlasFlags", new object[] { rows })));

        object?[] Row(ReleasedFlag f)
        {
            ReleasedContribution? contribution = contributions.GetValueOrDefault(f.ContributionId);
            return
            [
                f.Severity, f.Code, inputs.MeaningOf(f.Code)?.Family ?? "other", f.ContributionId, f.RecordKind, f.RecordId,
                Script.Short(f.Measured), Script.Short(f.Limit), f.Unit, f.Explanation, f.OverruledBy, data.SiteOf(f),
                contribution?.ContributorId ?? "", contribution?.Revision ?? 1, FileNames.OfContribution(f.ContributionId),
            ];
        }
    }

    public static Markup Badge(Language words, string severity) =>
        Markup.Of($"<span class=\"badge {severity}\">{words.Word(severity)}</span>");

    private static int Rank(string severity) => severity switch { "reject" => 0, "suspect" => 1, _ => 2 };

    private static Markup Row(Page page, ReleaseData data, ReleasedFlag f)
    {
        Language words = page.Words;
        string contribution = page.To(FileNames.OfContribution(f.ContributionId));
        string to = data.SiteOf(f) is { } site ? page.ToSite(site) : contribution;
        return Markup.Of(
            $"""
            <tr><td>{Badge(words, f.Severity)}</td><td>{f.Code}</td><td><a href="{to}">{words.Word(
                f.RecordKind)} {f.RecordId}</a><br><a class="nothing" href="{contribution}">{f.ContributionId}</a></td><td>{words.Number(
                f.Measured)} {words.Unit(f.Unit)}</td><td>{words.Number(f.Limit)}</td><td>{FlagWords.Finding(
                f, words)}</td><td>{f.OverruledBy}</td></tr>

            """);
    }

    private static Markup SetAside(Page page, PagesInputs inputs)
    {
        Language words = page.Words;
        Markup waiting = inputs.SetAside.Count == 0 ? Markup.Of($"<p>{words["quality.waiting.none"]}</p>")
            : Frame.Table(words["quality.waiting"], words.Texts("word.contribution", "quality.count", "quality.first"),
                inputs.SetAside, s =>
                [
                    Markup.Of($"<a href=\"{page.To(WaitingPage.FileOf(s))}\">{s.ContributionId ?? s.ShortHash}</a>"),
                    words.Count(s.Findings.Count),
                    s.Findings is [PublicFinding first, ..]
                        ? Markup.Of($"{FindingWords.Where(first, null, words)}: {FlagWords.Expected(first, words)}") : Markup.None,
                ]);
        return Markup.Of(
            $"""
            <section id="waiting"><h2>{words["quality.waiting"]}</h2>
            {waiting}</section>

            """);
    }
}
