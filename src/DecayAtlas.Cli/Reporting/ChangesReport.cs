using System.Globalization;

namespace DecayAtlas.Cli.Reporting;

/// <summary>The changes between two releases on a screen.</summary>
internal static class ChangesReport
{
    public static void Write(Screen screen, ReleaseChanges changes)
    {
        screen.Line($"From release {changes.From} to {changes.To}:");
        screen.Table(["records", "before", "now", "came", "went"],
            changes.Records.Select(r => new[] { r.Table, Count(r.Before), Count(r.Now), Count(r.Came), Count(r.Went) }));
        if (changes.SoftwareBefore != changes.SoftwareNow)
            screen.Line($"Made by {changes.SoftwareNow}, before by {changes.SoftwareBefore}.");
        screen.Lines(changes.Settings.Select(s => $"Setting {s.Setting}: {s.Now ?? "not stated"}, before {s.Before ?? "not stated"}."));
        screen.Lines(changes.Contributions.Select(c => $"Contribution {c.ContributionId}: {c.How}"
            + (c.How == "revised" ? $", revision {c.RevisionNow} for {c.RevisionBefore}." : ".")));
        if (changes.Flags.Count > 0)
            screen.Table(["flag", "came", "went"], changes.Flags.Select(f => new[] { f.Code, Count(f.Came), Count(f.Went) }));
        screen.Line($"Burials in both with another use: {Count(changes.UsesChanged)}.");
        Moved("Burials in both with another k or S, by cause", changes.Burials);
        Moved($"Means of site campaigns in both that moved ({Count(changes.SitesMoved)}), by cause; one with several counts for each",
            changes.Sites);
        if (changes.MostMoved.Count > 0)
        {
            screen.Line("Moved most:");
            string[] head = ["site", "campaign", "treatment", "k before", "k now", "S before", "S now", "why"];
            screen.Table(head, changes.MostMoved.Select(s => new[]
            {
                s.SiteKey, s.Campaign, s.Treatment ?? "", Number(s.RatePerDayBefore, "0.00000"), Number(s.RatePerDayNow, "0.00000"),
                Number(s.StabilisationBefore, "0.000"), Number(s.StabilisationNow, "0.000"), string.Join(", ", s.Causes),
            }));
        }

        void Moved(string title, IReadOnlyList<MovedByCause> causes)
        {
            if (causes.Count == 0)
                return;
            screen.Line(title + ":");
            screen.Table(["cause", "k moved", "k now / before", "from", "to", "S moved", "S now - before"], causes.Select(c => new[]
            {
                c.Cause, Count(c.RatesMoved), Number(c.MedianRatioOfRate, "0.0000"), Number(c.LeastRatioOfRate, "0.0000"),
                Number(c.MostRatioOfRate, "0.0000"), Count(c.StabilisationsMoved),
                Number(c.MedianDifferenceOfStabilisation, "+0.0000;-0.0000;0"),
            }));
        }
    }

    private static string Count(int count) => count.ToString(CultureInfo.InvariantCulture);

    private static string Number(double? value, string format) => value?.ToString(format, CultureInfo.InvariantCulture) ?? "-";
}
