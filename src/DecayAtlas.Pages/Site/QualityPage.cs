namespace DecayAtlas.Pages.Site;

/// <summary>For the curator: what is to be decided, and folded below it what was found besides, by group, and each finding with its
/// numbers, its records, and a decision to copy.</summary>
internal static class QualityPage
{
    public const string Path = "quality.html", FlagsFile = "data/flags-0.js";

    // what stands in the page itself, for those without scripts; the script shows all
    private const int RowsInPage = 50;

    // heads of the table, which on a phone stand in front of each value
    private static readonly string[] Columns =
    [
        "quality.severity", "word.flag", "quality.record", "quality.measured", "quality.limit", "quality.explanation", "quality.decision",
    ];

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
        ILookup<bool, ReleasedFlag> isToDecide = data.Flags.ToLookup(f => f.Severity != "note" && f.OverruledBy is null);
        Markup matrix = Frame.Table(words["quality.groups"], [words["word.group"], .. families.Select(words.Word), words["quality.all"]],
            groups, g =>
            [
                Markup.Of($"<a href=\"#group={Uri.EscapeDataString(g)}\">{GivenTitles.Over(inputs.Titles.Group(g), g)}</a>"),
                .. families.Select(f => cells[(g, f)].Count() is > 0 and int n
                    ? Markup.Of($"<a href=\"#group={Uri.EscapeDataString(g)}&amp;family={f}\">{words.Count(n)}</a>")
                    : Markup.Of($"<span class=\"nothing\">·</span>")),
                words.Count(families.Sum(f => cells[(g, f)].Count())),
            ], "numbers labelled");
        Markup[] choices =
        [
            Select("family", "quality.family", families, words.Word),
            Select("severity", "quality.severity", ["reject", "suspect", "note"], words.Word),
            Select("code", "word.flag", Each(f => f.Code), code => FlagWords.Title(code, words)),
            Select("group", "word.group", groups, inputs.Titles.Group),
        ];

        Markup body = Markup.Of(
            $"""
            <h1>{words["quality.title"]}</h1><p class="lead">{words["quality.lead"]}</p>
            {(data.Flags.Count == 0 ? Markup.Of($"<p>{words["quality.nothing"]}</p>") : Markup.Of(
                $"""
                <section><h2>{words["quality.decide"]}</h2><p>{words[isToDecide[true].Any() ? "quality.decide.text"
                    : "quality.decide.none"]}</p>
                {Codes(isToDecide[true], GroupOf, inputs, words)}</section>

                """))}
            {SetAside(page, inputs)}{Markup.If(data.Flags.Count > 0,
                $"""
                <section class="folded">
                {Folded("", "quality.rest", isToDecide[false].Count(), Codes(isToDecide[false], GroupOf, inputs, words))}
                {Folded("", "quality.groups", groups.Length, Markup.Of($"<p>{words["quality.groups.text"]}</p>{matrix}"))}
                {Folded("all", "quality.flags", data.Flags.Count, Every(page, inputs, choices))}</section>

                """)}
            """);
        return Frame.Document(page, words["nav.quality"], body, "text",
            data.Flags.Count == 0 ? [] : [$"data/words-{words.Code}.js", "assets/say.js", "assets/quality.js", FlagsFile]);

        string[] Each(Func<ReleasedFlag, string> what) => [.. data.Flags.Select(what).Distinct().Order(StringComparer.Ordinal)];

        Markup Folded(string id, string title, int count, Markup content) => Markup.If(count > 0,
            $"""
            <details{Markup.If(id.Length > 0, $" id=\"{id}\"")}><summary><h2>{words[title]}</h2> <span>{words.Count(
                count)}</span></summary>{content}</details>
            """);

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

    /// <summary>What was found, a line a code, the gravest and then the most frequent first; what it means and the way to the records open
    /// below it.</summary>
    private static Markup Codes(IEnumerable<ReleasedFlag> flags, Func<ReleasedFlag, string> groupOf, PagesInputs inputs, Language words)
    {
        IEnumerable<Markup> lines = flags.GroupBy(f => f.Code).OrderBy(g => Rank(g.First().Severity)).ThenByDescending(g => g.Count())
            .ThenBy(g => g.Key, StringComparer.Ordinal).Select(g => Line([.. g]));
        return Markup.Of($"<ul class=\"found\">{lines}</ul>");

        Markup Line(ReleasedFlag[] of)
        {
            (string code, FlagMeaning? meaning) = (of[0].Code, inputs.MeaningOf(of[0].Code));
            string count = words.Count(of.Length), groups = words.Say("quality.of-groups", of.Select(groupOf).Distinct().Count());
            return Markup.Of(
                $"""
                <li><details><summary>{Badge(words, of[0].Severity)} <span class="what"><b>{FlagWords.Title(
                    code, words)}</b> <span class="nothing">{code}</span></span> <span>{count} {groups}</span></summary>
                <p>{FlagWords.Meaning(meaning, words)} {FlagWords.Mend(meaning, words)}</p>
                <p><a href="#code={Uri.EscapeDataString(code)}">{words["quality.show"]}</a></p></details></li>

                """);
        }
    }

    private static Markup Every(Page page, PagesInputs inputs, Markup[] choices)
    {
        (Language words, ReleaseData data) = (page.Words, inputs.Data);
        int files = (data.Flags.Count + FlagsAFile - 1) / FlagsAFile;
        string ofLots = string.Join(' ', inputs.FlagMeanings.Where(m => m.IsOfLot).Select(m => m.Code).Order(StringComparer.Ordinal));
        IEnumerable<Markup> head = words.Texts([.. Columns]).Select(text => Markup.Of($"<th scope=\"col\">{text}</th>"));
        return Markup.Of(
            $"""
            <p>{words["quality.flags.text"]}</p>
            <form id="narrow" class="narrow" data-root="{page.Root}" data-flags="{data.Flags.Count}" data-files="{files}"
              data-of-lots="{ofLots}" hidden>{choices}
            <label class="field"><span><input type="checkbox" name="open"> {words["quality.open"]}</span></label>
            <button type="reset" class="quiet">{words["map.reset"]}</button></form>
            <p id="flags-count" class="count" role="status" aria-live="polite"></p>
            <div class="scroll" tabindex="0" role="region" aria-label="{words["quality.flags"]}">
            <table id="flags"><thead><tr>{head}</tr></thead>
            <tbody>
            {AlikeFlags.Of(data.Flags, inputs.MeaningOf).Take(RowsInPage).Select(f => Row(page, data, f))}</tbody></table></div>
            <p><button type="button" id="flags-more" hidden>{words["quality.more"]}</button></p>
            <pre id="decision" class="decision" tabindex="0" hidden></pre>
            """);
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

    private static Markup Row(Page page, ReleaseData data, AlikeFlags alike)
    {
        (Language words, ReleasedFlag f) = (page.Words, alike.First);
        Markup[] cells =
        [
            Badge(words, f.Severity), FlagWords.TitleBeside(f.Code, words),
            Markup.Of($"{Record(f)}<br>{Contributions(page, alike)}{Markup.If(alike.All.Count > 1,
                $"<details><summary>{words.Say("quality.alike", alike.All.Count - 1)}</summary>{Frame.List(
                    alike.All.Skip(1).Select(Record))}</details>")}"),
            $"{words.Number(f.Measured)} {words.Unit(f.Unit)}", words.Number(f.Limit), FlagWords.Finding(f, words), f.OverruledBy,
        ];
        return Markup.Of($"<tr>{cells.Zip(Columns, (cell, name) => Markup.Of($"<td data-name=\"{words[name]}\">{cell}</td>"))}</tr>\n");

        Markup Record(ReleasedFlag of)
        {
            string to = data.SiteOf(of) is { } site ? page.ToSite(site) : page.To(FileNames.OfContribution(of.ContributionId));
            return Markup.Of($"<a href=\"{to}\">{words.Word(of.RecordKind)} {of.RecordId}</a>");
        }
    }

    private static Markup Contributions(Page page, AlikeFlags alike) => Markup.Of($"{alike.All.Select(f => f.ContributionId).Distinct()
        .Select(c => Markup.Of($"<a class=\"nothing\" href=\"{page.To(FileNames.OfContribution(c))}\">{c}</a> "))}");

    private static Markup SetAside(Page page, PagesInputs inputs)
    {
        Language words = page.Words;
        Markup waiting = inputs.SetAside.Count == 0 ? Markup.Of($"<p>{words["quality.waiting.none"]}</p>")
            : Frame.Table(words["quality.waiting"], words.Texts("word.contribution", "quality.count", "quality.first"),
                inputs.SetAside, s =>
                [
                    Markup.Of($"<a href=\"{page.To(WaitingPage.FileOf(s))}\">{WaitingPage.NameOf(s, inputs, words)}</a>"),
                    words.Count(s.Findings.Count),
                    s.Findings is not [PublicFinding first, ..] ? Markup.None
                        : s.Format == ContributionFormat.Kit
                        ? $"{FindingWords.WhereInKit(first, null, words)}{words.Colon}{words["finding." + first.Code]}"
                        : Markup.Of($"{FindingWords.Where(first, null, words)}{words.Colon}{FlagWords.Expected(first, words)}"),
                ], "stacked");
        return Markup.Of(
            $"""
            <section id="waiting"><h2>{words["quality.waiting"]}</h2>
            {waiting}</section>

            """);
    }
}
