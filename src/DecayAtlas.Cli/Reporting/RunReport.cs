using DecayAtlas.Pipeline;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Cli.Reporting;

/// <summary>A run told to a person: what needs them first, then where the results lie.</summary>
internal static class RunReport
{
    public static void Write(Screen screen, FlowResult result, RunRecord record)
    {
        if (record.Quarantined.Count > 0)
        {
            screen.Line($"Quarantined in this run: {record.Quarantined.Count}. Each has a report.md to send back, in the folder quarantine of the atlas.");
            foreach (QuarantinedNow one in record.Quarantined)
                screen.Line($"  {Path.GetFileName(one.Source)}: {one.FirstFinding}{(one.Findings > 1 ? $" ({one.Findings - 1} more)" : "")}");
        }

        if (record.Flags.Count > 0)
        {
            screen.Line($"Burials: {string.Join(", ", record.BurialsByUse.Select(x => $"{x.Value} {x.Key}"))}. Flags by code:");
            screen.Table(["code", "count"], [.. record.Flags.Select(x => (IReadOnlyList<string>)[x.Key, $"{x.Value}"])]);
        }

        if (record.RateMissing.Count > 0)
            screen.Line($"Burials without k: {string.Join(", ", record.RateMissing.Select(x => $"{x.Value} {x.Key}"))}.");

        if (result.Published is { Release: { } release })
        {
            screen.Line(release.IsNew
                ? $"Release {release.Id}: {string.Join(", ", release.RowCounts.Select(x => $"{x.Value} {x.Key}"))}."
                : $"Nothing changed: release {release.Id} stands and no release was written.");
        }

        if (result.Model is { } model)
        {
            screen.Line($"Model: {Path.Combine(model.Folder, "card.md")}{(model.IsNew ? "" : " (unchanged)")}");
        }

        if (result.Map is { } map)
            screen.Line($"Map: {Path.Combine(map.Folder, MapStage.PngName)} and {MapStage.TifName}{(map.IsNew ? "" : " (unchanged)")}");
    }
}
