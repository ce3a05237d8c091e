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
    public static string Of(IReadOnlyList<IntakeResult> open, IReadOnlyList<IntakeResult> notKept)
    {
        StringBuilder text = new("# What waits for its sender\n\n"
            + "For the curator alone: it says what senders called their files, and what was found in them.\n");
        if (open.Count + notKept.Count == 0)
            text.Append("\nNothing waits.\n");
        foreach (IntakeResult one in open)
        {
            string id = one.ContributionId is null ? "" : $"Contribution id: {ReportText.Markdown(one.ContributionId)}  \n";
            text.Append($"""

                ## {PublicIntake.ShortOf(one.ContentHash)}: {ReportText.Markdown(one.Source)}

                {id}To send back: `{one.ContentHash}/{QuarantineReport.MarkdownName}`

                {ReportText.Table(one.Findings)}
                """);
        }
        if (notKept.Count > 0)
            text.Append("\n## Entries of the inbox of which nothing was kept\n");
        foreach (IntakeResult one in notKept)
            text.Append($"\n### {ReportText.Markdown(one.Source)}\n\n{ReportText.Table(one.Findings)}");
        return text.ToString();
    }
}
