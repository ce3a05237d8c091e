using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Contributions;
using DecayAtlas.Demo;
using DecayAtlas.Pipeline;
using DecayAtlas.Pipeline.Flags;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Cli.Reporting;

/// <summary>The demo's result held against what was planted: faults found, false alarms, and how close the map comes to the truth.</summary>
/// <param name="Faults">Planted faults against raised flags.</param>
/// <param name="Response">Mapped against true ln k over the land; missing when no map was drawn.</param>
/// <param name="FoundWhatWasPlanted">Whether just the contributions broken on purpose are in quarantine.</param>
internal sealed record DemoVerdict(FaultScore Faults, TruthComparison? Response, bool FoundWhatWasPlanted)
{
    public static DemoVerdict Of(string folder, FlowResult result)
    {
        IReadOnlyList<PlantedFault> planted = PlantedFaults.Load(folder);
        IReadOnlyList<IntakeResult> taken = result.Intake!.Taken;
        IEnumerable<RaisedFlag> raised = result.Flags!.Flags
            .Select(f => new RaisedFlag(f.Record.ContributionId, AtlasCode.Of(f.Record.Kind), f.Record.RecordId, f.Code, f.Severity != Severity.Note))
            .Concat(Refused(taken).SelectMany(t => t.Findings.Select(f => new RaisedFlag(NameOf(t), "contribution", NameOf(t), f.Code, true))));
        IEnumerable<DemoRecord> records = result.Index!.Bags.Select(b => new DemoRecord(b.Header.ContributionId, "bag", b.Row.BagId))
            .Concat(result.Index.Burials.Select(b => new DemoRecord(b.Header.ContributionId, "burial", b.BurialId)))
            .Concat(result.Index.Sites.Select(s => new DemoRecord(s.ContributionId, "site", s.Row.SiteId)))
            .Concat(taken.Select(t => new DemoRecord(NameOf(t), "contribution", NameOf(t))));
        Dictionary<string, string> families = FlagCatalogue.All.ToDictionary(d => d.Code, d => d.Family, StringComparer.Ordinal);

        TruthComparison? response = result.Map is { } map
            ? TruthComparison.OfFiles(Path.Combine(map.Folder, MapStage.TifName), Path.Combine(folder, "truth", "decay-rate.tif"))
            : null;
        HashSet<string> broken = [.. planted.Where(p => p.RecordType == "contribution").Select(p => p.ContributionId)];
        return new DemoVerdict(
            FaultScore.Of(planted, raised, records, code => families.GetValueOrDefault(code, "intake")),
            response,
            broken.SetEquals(Refused(taken).Select(NameOf)));
    }

    public void Write(Screen screen)
    {
        screen.Line($"Demo: {Faults.Found} of {Faults.Planted} planted faults flagged as expected; {Faults.SoundRecordsFlagged} of {Faults.SoundRecords} sound records flagged.");
        screen.Table(["family", "planted", "found"], [.. Faults.ByFamily.Select(f => (IReadOnlyList<string>)[f.Name, $"{f.Planted}", $"{f.Found}"])]);
        foreach (PlantedFault missed in Faults.Missed.Take(20))
            screen.Line($"  missed: {missed.Code} on {missed.RecordType} {missed.RecordId} of {missed.ContributionId}");
        foreach (RaisedFlag alarm in Faults.FalseAlarms.Take(20))
            screen.Line($"  false alarm: {alarm.Code} on {alarm.RecordType} {alarm.RecordId} of {alarm.ContributionId}");
        if (Response is { } r)
        {
            screen.Line($"Demo: mapped against true decay rate over {r.Cells} land cells: R2 of ln k {r.RSquared:0.000}, correlation {r.Correlation:0.000}, typically off by a factor of {Math.Exp(r.RootMeanSquareErrorLn):0.00}, mean factor {Math.Exp(r.BiasLn):0.00}.");
        }

        if (!FoundWhatWasPlanted)
            screen.Line("Demo: the contributions in quarantine are not just those broken on purpose.");
    }

    private static IEnumerable<IntakeResult> Refused(IEnumerable<IntakeResult> taken) =>
        taken.Where(t => t.Outcome is IntakeOutcome.Quarantined or IntakeOutcome.AlreadyQuarantined);

    private static string NameOf(IntakeResult result) => Path.GetFileNameWithoutExtension(Path.TrimEndingDirectorySeparator(result.Source));
}
