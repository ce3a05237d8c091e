namespace DecayAtlas.Pipeline.Work;

/// <summary>One group and its active contributions, in order of their id. No number of one contributor depends on another's rows.</summary>
/// <param name="Withdrawn">Ids of its contributions that were withdrawn: they are in no table but that of the decisions.</param>
/// <param name="SensitiveSites">Ids of its sites that any accepted contribution ever marked sensitive, superseded and withdrawn ones too.</param>
internal sealed record ContributorGroup(
    string ContributorId, IReadOnlyList<ContributionHeader> Headers, IReadOnlyList<string> Withdrawn, IReadOnlyList<string> SensitiveSites)
{
    public static IReadOnlyList<ContributorGroup> Of(
        IEnumerable<ContributionHeader> active, IReadOnlySet<string> withdrawn, ILookup<string, string> sensitiveSites) =>
    [
        .. active.GroupBy(h => h.ContributorId, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new ContributorGroup(
                g.Key,
                [.. g.Where(h => !withdrawn.Contains(h.ContributionId)).OrderBy(h => h.ContributionId, StringComparer.Ordinal)],
                [.. g.Select(h => h.ContributionId).Where(withdrawn.Contains).Order(StringComparer.Ordinal)],
                [.. sensitiveSites[g.Key].Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)])),
    ];
}

/// <summary>What was computed for one contributor.</summary>
/// <param name="Evidence">What of it is held against other contributors.</param>
/// <param name="IdleDecisions">Overrulings that found no flag.</param>
internal sealed record ContributorResult(ContributorRows Rows, WorkCounts Counts, Evidence Evidence, IReadOnlyList<string> IdleDecisions);

/// <summary>Index, snap, flag and summarise for one contributor at a time: the chain of stages, and nothing that looks beyond it.</summary>
internal sealed class ContributorWork(
    PipelineConfiguration configuration, SharedInputs shared, DecisionList decisions, LotConsensus lots, SnapMemory snapped, Func<ContributionHeader, Contribution> read)
{
    /// <summary>Stands for all that bears on a contributor's rows.</summary>
    public string KeyOf(ContributorGroup group) => WorkKey.Of(
    [
        shared.Code, shared.Settings, shared.CountriesDigest,
        .. shared.Grids.Select(g => g.Digest),
        "contributions", .. group.Headers.SelectMany(h => new[] { h.ContributionId, h.ContentHash }),
        "lots", .. lots.DigestFor(group),
        "sensitive", .. group.SensitiveSites,
        "decisions", .. decisions.For(group).Select(d => d.ToString()),
    ]);

    public ContributorResult Compute(ContributorGroup group)
    {
        IReadOnlyList<Contribution> contributions = [.. group.Headers.Select(read)];
        IndexStage.Output index = IndexStage.Run(contributions, configuration.Assumptions, group.SensitiveSites);
        SnapStage.Output snap = SnapStage.Run(index.Sites, index.Burials, shared.Grids, configuration.BagHeightCentimetres, snapped);
        FlagStage.Output flags = FlagStage.Run(
            new FlagInputs(contributions, index.Sites, index.Bags, index.Burials, snap.Values, lots, shared.Countries, configuration.Flags), decisions.InForce(group.Headers));
        SummariseStage.Output summaries = SummariseStage.Run(index.Burials, flags.Verdicts);
        IReadOnlyList<SiteCurve> curves = CurveStage.Run(index.Bags, index.Burials, flags.Verdicts);
        ReleaseTables tables = ReleasedRows.Of(contributions, index, snap, flags, summaries, curves, decisions.For(group));
        Decision[] idle = [.. decisions.For(group).Where(d => !d.IsWithdrawal && flags.Flags.All(f => f.Overruling != d))];
        return new ContributorResult(
            ContributorRows.Of(group.ContributorId, tables), WorkCounts.Of(index, snap, flags, summaries),
            EvidenceGathering.Of(index, snap, flags.Verdicts, summaries, shared.Quantities), [.. idle.Select(Describe)]);
    }

    internal static string Describe(Decision decision) =>
        $"{decision.FlagCode} on {AtlasCode.Of(decision.Overruled!.Value.Kind)} {decision.Overruled.Value.RecordId} of {decision.ContributionId}, revision {decision.Revision}, which is not flagged so";
}
