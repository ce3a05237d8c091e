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

    private const string Next = """
        ## What to do next

        1. Mend the points above in your own copy.
        2. Look whether all is well: `decayatlas check PATH` lists the same points.
        3. Send the whole contribution again, in the same form, under the same `name`.
        """ + " If an earlier state of it was accepted, give it a higher `revision`.\n\n"
        + "The schema with every column, unit and allowed value, and a whole example, are in `schemas/v1`.";

    public string ToMarkdown(bool isKept)
    {
        string id = ContributionId is null ? "" : $"Contribution id: {ReportText.Markdown(ContributionId)}  \n";
        string happened = Mistake is null ? "The contribution was read and something in it has to be mended before it can be used."
            : "The contribution could not be examined, by a mistake of this program and not of yours.";
        string kept = isKept
            ? "Nothing is lost: what was received is kept unchanged in `received/`; links, if there were any, are left out."
            : "It is larger than what is kept here, or could not be opened, so it was left where it was.";
        string next = Mistake is not null ? "## What to do next\n\nNothing: it is examined again as soon as the program is mended."
            : $"{ReportText.AboutRows}\n\n{Next}";
        return $"""
            # Not yet in the atlas: {ReportText.Markdown(Source)}

            {id}Content: `{ContentHash}`

            ## What happened

            {happened} It was set aside whole; no part of it went into the atlas.
            {kept}

            ## What was found

            {ReportText.Table(Findings)}
            {next}

            """;
    }
}
