using System.Text;

namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// The curator's list of what waits, with the names and words of the senders: what a run prints and records has neither. It lies in
/// the quarantine, which is its owner's alone, and is the same for the same quarantine.
/// </summary>
internal static class WaitingList
{
    public const string FileName = "waiting.md";

    /// <param name="notKept">Entries of the inbox that could not be kept at all.</param>
    /// <param name="addresseeOf">By contributor and campaign; that of neither is the curator.</param>
    public static string Of(
        IReadOnlyList<IntakeResult> open, IReadOnlyList<IntakeResult> notKept, Func<string?, string?, Addressee> addresseeOf)
    {
        Phrases words = addresseeOf(null, null).Words;
        StringBuilder text = new($"# {words["waiting.list.title"]}\n\n{words["waiting.list.text"]}\n");
        if (open.Count + notKept.Count == 0)
            text.Append($"\n{words["waiting.list.nothing"]}\n");
        foreach (IntakeResult one in open)
        {
            string id = one.ContributionId is null ? ""
                : words.Say("waiting.report.id", ReportText.Markdown(one.ContributionId)) + "  \n";
            string received = $"{PublicIntake.ShortOf(one.ContentHash)}: {ReportText.Markdown(one.Source)}";
            string? called = addresseeOf(one.ContributorId, one.Campaign).Called;
            string back = words.Say("waiting.list.back", $"`{one.ContentHash}/{QuarantineReport.MarkdownName}`");
            IReadOnlyList<Finding> findings = one.Format == ContributionFormat.Kit
                ? [.. one.Findings.Select(finding => finding with { IsToldOfKit = true })] : one.Findings;
            text.Append($"""

                ## {(called is null ? received : ReportText.Markdown(called))}

                {(called is null ? "" : received + "  \n")}{id}{back}

                {ReportText.Table(findings, words)}
                """);
        }
        if (notKept.Count > 0)
            text.Append($"\n## {words["waiting.list.not-kept"]}\n");
        foreach (IntakeResult one in notKept)
            text.Append($"\n### {ReportText.Markdown(one.Source)}\n\n{ReportText.Table(one.Findings, words)}");
        return text.ToString();
    }
}
