namespace DecayAtlas.Contributions.Receiving;

/// <summary>What a contributor gets to know about a contribution that was not accepted. Holds no contact data.</summary>
internal sealed record QuarantineReport(string Source, string ContentHash, string? ContributionId, IReadOnlyList<Finding> Findings)
{
    /// <summary>Stands for the limits, the schema and the code that judged; under others it is judged anew.</summary>
    public string? JudgedBy { get; init; }

    /// <summary>What this program did wrong over it, where it could not be examined: for the curator, who reports it.</summary>
    public OurMistake? Mistake { get; init; }

    /// <summary>What kind of thing was sent, where that was clear.</summary>
    public ContributionFormat? Format { get; init; }

    /// <summary>Who sent it, where its descriptor could be read.</summary>
    public string? ContributorId { get; init; }

    /// <summary>The id of the campaign, where its descriptor could be read.</summary>
    public string? Campaign { get; init; }

    public int Revision { get; init; }

    /// <summary>How often it was read: what took too long once may have met an overloaded machine, and is read once more.</summary>
    public int Tries { get; init; } = 1;

    /// <summary>The highest revision that was accepted when it was judged: a higher one since then is its correction. 0 where there was
    /// none.</summary>
    public int AcceptedBefore { get; init; }

    /// <summary>SHA-256 of the one table, where it was one with a mapping or without.</summary>
    public string? TableSha256 { get; init; }

    public const string JsonName = "report.json";
    public const string MarkdownName = "report.md";

    private bool IsKit => Format == ContributionFormat.Kit;

    /// <param name="check">What a check tells of it beside what it was set aside for; null where there is none.</param>
    public string ToMarkdown(bool isKept, Addressee addressee, CheckReport? check)
    {
        Phrases words = addressee.Words;
        IReadOnlyList<string> beside = check is null || Mistake is not null ? [] : CheckTelling.Of(check, words).Beside;
        string look = beside.Count == 0 ? "" : $"\n## {words["answer.look"]}\n\n{words["answer.look.text"]}\n\n"
            + string.Concat(beside.Select(line => $"- {ReportText.Markdown(line)}\n"));
        string id = ContributionId is null ? "" : words.Say("waiting.report.id", ReportText.Markdown(ContributionId)) + "  \n";
        string happened = words[Mistake is null ? "waiting.report.read" : "waiting.report.mistake"];
        string next = Mistake is not null ? $"## {words["waiting.next"]}\n\n{words["waiting.report.nothing"]}"
            : $"""
            ## {words["waiting.next"]}

            1. {words["waiting.step1"]}
            2. {words.Say("waiting.step2", words["drop.title"])}
            3. {words.Say("waiting.step3", FindingWords.VersionIn(Format, words))}{(IsKit ? "" : $"\n\n{words["waiting.report.schema"]}")}
            """;
        // a cell says by itself which row it is of
        string rows = Mistake is null && Findings.Any(finding => finding is { Row: not null, Cell: null })
            ? $"\n{words["waiting.report.rows"]}\n" : "";
        return $"""
            # {words.Say("waiting.report.title", ReportText.Markdown(addressee.Called ?? Source))}

            {id}{words["waiting.report.content"]} `{ContentHash}`

            ## {words["waiting.report.happened"]}

            {happened} {words["waiting.report.aside"]}
            {words[isKept ? "waiting.report.kept" : "waiting.report.not-kept"]}

            ## {words["waiting.report.found"]}

            {ReportText.Table(IsKit ? [.. Findings.Select(finding => finding with { IsToldOfKit = true })] : Findings, words)}{rows}{look}
            {next}

            """;
    }
}
