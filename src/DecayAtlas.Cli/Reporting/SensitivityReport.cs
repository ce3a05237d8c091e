namespace DecayAtlas.Cli.Reporting;

/// <summary>What suppositions would do to a release, as a person reads it.</summary>
internal static class SensitivityReport
{
    public static void Write(Screen screen, string releaseId, SensitivityAnswer answer)
    {
        screen.Line($"Sensitivity of release {releaseId}: {answer.Burials} accepted burials at {answer.Sites} sites, k and S made again "
            + "from their weighings.");
        foreach (IGrouping<string, ReleasedSensitivity> supposed in answer.Rows.GroupBy(r => r.Supposition))
        {
            screen.Line("");
            screen.Line($"{supposed.Key}: if {supposed.First().Supposed}");
            screen.Lines(supposed.Select(r => $"  {r.Quantity}: {r.Sentence}"));
        }

        screen.Line("");
        screen.Lines(answer.Cautions);
    }
}
