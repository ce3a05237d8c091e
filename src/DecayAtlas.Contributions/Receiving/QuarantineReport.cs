using System.Text;

namespace DecayAtlas.Contributions.Receiving;

/// <summary>What a contributor gets to know about a contribution that was not accepted. Holds no contact data.</summary>
internal sealed record QuarantineReport(string Source, string ContentHash, string? ContributionId, IReadOnlyList<Finding> Findings)
{
    /// <summary>Stands for the limits, the schema and the code that judged; under others it is judged anew.</summary>
    public string? JudgedBy { get; init; }

    /// <summary>What this program did wrong over it, where it could not be examined: for the curator, who reports it.</summary>
    public OurMistake? Mistake { get; init; }

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

    public string ToMarkdown(bool isKept)
    {
        StringBuilder text = new();
        text.Append("# Not yet in the atlas: ").Append(ReportText.Markdown(Source)).Append("\n\n");
        if (ContributionId is not null)
            text.Append("Contribution id: ").Append(ReportText.Markdown(ContributionId)).Append("  \n");
        text.Append("Content: `").Append(ContentHash).Append("`\n\n## What happened\n\n");
        text.Append(Mistake is null
            ? "The contribution was read and something in it has to be mended before it can be used. It was set aside whole; "
            : "The contribution could not be examined, by a mistake of this program and not of yours. It was set aside whole; ");
        text.Append("no part of it went into the atlas.\n");
        text.Append(isKept
            ? "Nothing is lost: what was received is kept unchanged in `received/`; links, if there were any, are left out.\n\n"
            : "It is larger than what is kept here, or could not be opened, so it was left where it was.\n\n");
        text.Append("## What was found\n\n");
        ReportText.AppendFindings(text, Findings);
        if (Mistake is not null)
        {
            text.Append("\n## What to do next\n\nNothing: it is examined again as soon as the program is mended.\n");
            return text.ToString();
        }
        text.Append('\n').Append(ReportText.AboutRows).Append("\n\n## What to do next\n\n");
        text.Append("1. Mend the points above in your own copy.\n");
        text.Append("2. Look whether all is well: `decayatlas check PATH` lists the same points.\n");
        text.Append("3. Send the whole contribution again, in the same form, under the same `name`. If an earlier state of it was ");
        text.Append("accepted, give it a higher `revision`.\n\n");
        text.Append("The schema with every column, unit and allowed value, and a whole example, are in `schemas/v1`.\n");
        return text.ToString();
    }
}
