namespace DecayAtlas.Cli.Reporting;

/// <summary>The demo's result held against what was planted: faults found, false alarms, and how close the map comes to the
/// truth.</summary>
/// <param name="Faults">Planted faults against raised flags.</param>
/// <param name="Response">Mapped against true ln k over the land; missing when no map was drawn.</param>
/// <param name="FoundWhatWasPlanted">Whether just the contributions broken on purpose are in quarantine.</param>
/// <param name="Evidence">Each kind of evidence held against the truth of its sites.</param>
internal sealed record DemoVerdict(
    FaultScore Faults, TruthComparison? Response, bool FoundWhatWasPlanted, IReadOnlyList<EvidenceScore> Evidence)
{
    /// <summary>Reads the flags back from the published tables, as any user of the release would.</summary>
    public static DemoVerdict Of(string folder, PipelineConfiguration configuration, FlowResult result)
    {
        IReadOnlyList<PlantedFault> planted = PlantedFaults.Load(folder);
        IReadOnlyList<IntakeResult> taken = result.Intake!.Taken;
        ReleaseReader release = new(new AtlasFolder(configuration.Atlas));
        Dictionary<string, string> families =
            FlagCatalogue.All.ToDictionary(d => d.Code, d => AtlasCode.Of(d.Family), StringComparer.Ordinal);

        TruthComparison? response = result.Map is { } map
            ? TruthComparison.OfFiles(
                Path.Combine(map.Folder, MapQuantity.DecayRate.TifName), Path.Combine(folder, "truth", "decay-rate.tif"))
            : null;
        IReadOnlySet<string> broken = BrokenOnPurpose(folder);
        // by its name in the inbox, where that is one of the demo's own; the verdict is printed, and somebody's file may lie there too
        string NameOf(IntakeResult result)
        {
            PublicIntake told = PublicIntake.Of(result);
            return broken.Contains(InboxNameOf(result)) ? InboxNameOf(result) : told.ContributionId ?? told.Name;
        }

        IEnumerable<RaisedFlag> raised = release.Rows(AtlasTables.Flags)
            .Select(f => new RaisedFlag(f.ContributionId, f.RecordKind, f.RecordId, f.Code, f.Severity != AtlasCode.Of(Severity.Note)))
            .Concat(Refused(taken)
                .SelectMany(t => t.Findings.Select(f => new RaisedFlag(NameOf(t), "contribution", NameOf(t), f.Code, true))));
        IEnumerable<DemoRecord> records =
        [
            .. release.Rows(AtlasTables.Bags).Select(b => new DemoRecord(b.ContributionId, "bag", b.BagId)),
            .. release.Rows(AtlasTables.Burials).Select(b => new DemoRecord(b.ContributionId, "burial", b.BurialId)),
            .. release.Rows(AtlasTables.Results).Select(r => new DemoRecord(r.ContributionId, "result", r.ResultId)),
            .. release.Rows(AtlasTables.Sites).Select(s => new DemoRecord(s.ContributionId, "site", s.SiteId)),
            .. taken.Select(t => new DemoRecord(NameOf(t), "contribution", NameOf(t))),
        ];
        return new DemoVerdict(
            FaultScore.Of(planted, raised, records, code => families.GetValueOrDefault(code, FaultScore.IntakeFamily)),
            response,
            broken.SetEquals(Refused(taken).Select(InboxNameOf)),
            EvidenceScore.Of(MeasuredIn(release), EvidenceScore.TruthIn(folder)));
    }

    private static IEnumerable<MeasuredSite> MeasuredIn(ReleaseReader release) =>
        from row in release.Rows(AtlasTables.SiteCampaigns)
        where row is { IsUntreated: true, LnRateBurials: > 1, LnRateMean: not null, LnRateSd: not null, RateMeanPerDay: > 0 }
        select new MeasuredSite(
            row.SiteKey, row.Evidence, row.LnRateBurials, row.LnRateMean!.Value, row.LnRateSd!.Value / Math.Sqrt(row.LnRateBurials),
            Math.Sqrt(Square(row.RateMeanBatchUncertaintyPerDay) + Square(row.RateMeanLotUncertaintyPerDay)) / row.RateMeanPerDay!.Value);

    private static double Square(double? x) => x * x ?? 0;

    /// <summary>Names in the inbox of the contributions that were broken on purpose.</summary>
    public static IReadOnlySet<string> BrokenOnPurpose(string folder) =>
        PlantedFaults.Load(folder).Where(p => p is { RecordType: PlantedFault.ContributionRecord, Size: null })
            .Select(p => p.ContributionId).ToHashSet(StringComparer.Ordinal);

    public void Write(Screen screen)
    {
        screen.Line($"Demo: {Faults.Found} of {Faults.Planted} planted faults flagged as expected; {Faults.SoundRecordsFlagged} of "
            + $"{Faults.SoundRecords} sound records flagged.");
        screen.Table(["family", "planted", "found", "false flags"], Faults.ByFamily.Select(Row));
        if (Faults.BySize.Count > 0)
        {
            screen.Line("Faults that only show among others:");
            HashSet<string> statistical = [.. Faults.BySize.Select(s => s.Code)];
            screen.Table(["code", "planted", "found", "false flags"],
                Faults.ByCode.Where(c => statistical.Contains(c.Name)).Select(Row));
            screen.Table(["code", "size", "of", "planted", "found"],
                Faults.BySize.Select(s => new[] { s.Code, $"{s.Size}", s.SizeOf, $"{s.Planted}", $"{s.Found}" }));
        }

        screen.Lines(Faults.Missed.Take(20).Select(m => $"  missed: {m.Code} on {m.RecordType} {m.RecordId} of {m.ContributionId}"));
        screen.Lines(Faults.FalseAlarms.Take(20)
            .Select(a => $"  false alarm: {a.Code} on {a.RecordType} {a.RecordId} of {a.ContributionId}"));
        if (Response is { } r)
        {
            screen.Line($"Demo: mapped against true decay rate over {r.Cells} land cells: R2 of ln k {r.RSquared:0.000}, correlation "
                + $"{r.Correlation:0.000}, typically off by a factor of {Math.Exp(r.RootMeanSquareErrorLn):0.00}, mean factor "
                + $"{Math.Exp(r.BiasLn):0.00}.");
        }

        screen.Line("Demo: k of each kind of evidence against the truth of its sites:");
        screen.Table(
            ["evidence", "site campaigns", "ln k off by", "standard uncertainty", "intervals that hold the truth"],
            Evidence.Select(e => new[]
            {
                e.Evidence, $"{e.SiteCampaigns}", $"{e.MeanOffLn:0.000}", $"{e.UncertaintyLn:0.000}", $"{e.ShareHeld:0.00}",
            }));
        screen.Lines(Evidence.Where(e => !e.IsOnTruth).Select(e => $"  off the truth by more than its error: {e.Evidence}"));
        if (!FoundWhatWasPlanted)
            screen.Line("Demo: the contributions in quarantine are not just those broken on purpose.");
    }

    private static string[] Row(FaultRecall recall) =>
        [recall.Name, $"{recall.Planted}", $"{recall.Found}", $"{recall.FalseFlags}"];

    private static IEnumerable<IntakeResult> Refused(IEnumerable<IntakeResult> taken) =>
        taken.Where(t => t.Outcome is IntakeOutcome.Quarantined or IntakeOutcome.AlreadyQuarantined);

    private static string InboxNameOf(IntakeResult result) =>
        Path.GetFileNameWithoutExtension(Path.TrimEndingDirectorySeparator(result.Source));
}
