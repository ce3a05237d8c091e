namespace DecayAtlas.Pipeline.Contributors;

/// <summary>What was computed for one contributor.</summary>
/// <param name="IdleDecisions">Overrulings that found no flag.</param>
internal sealed record ContributorResult(ContributorRows Rows, WorkCounts Counts, Evidence Evidence, IReadOnlyList<string> IdleDecisions)
{
    /// <summary>The entries of the vocabulary file that stand for a word of its.</summary>
    public IReadOnlyList<string> LocalWords { get; init; } = [];
}

/// <summary>Index, snap, flag and summarise for one contributor at a time: the chain of steps, and nothing that looks beyond it.</summary>
internal sealed class ContributorWork(
    PipelineConfiguration configuration, SharedInputs shared, DecisionList decisions, LotConsensus lots, SampleAt sampleAt,
    Func<ContributionHeader, Contribution> read)
{
    /// <summary>Stands for all that bears on a contributor's rows.</summary>
    public string KeyOf(ContributorGroup group) => InputDigest.Of(
    [
        SharedInputs.CodeIdentity, shared.Settings, shared.CountriesDigest,
        .. shared.Grids.Select(g => g.Digest),
        "words", .. shared.Words.Entries,
        "contributions", .. group.Headers.SelectMany(h => new[] { h.ContributionId, h.ContentHash }),
        "lots", .. lots.Described(group.Headers.Select(h => h.ContentHash)),
        "sensitive", .. group.SensitiveSites,
        "decisions", .. decisions.For(group.ContributionIds).Select(d => d.ToString()),
    ]);

    public ContributorResult Compute(ContributorGroup group)
    {
        Contribution[] sent = [.. group.Headers.Select(read)];
        IReadOnlyList<Contribution> contributions = [.. sent.Select(c => c.InOurWords(shared.Words))];
        IndexStep.Output index = IndexStep.Run(contributions, configuration.Assumptions, group.SensitiveSites);
        SnapStep.Output snap = SnapStep.Run(index, shared.Grids, configuration.BagHeightCentimetres, sampleAt);
        FlagStep.Output flags = FlagStep.Run(
            new FlagInputs(contributions, index.Sites, index.Bags, index.Burials, snap.Values, lots, shared.Countries,
                configuration.Flags)
            { Results = index.Results }, decisions.InForce(group.Headers));
        SummariseStep.Output summaries = SummariseStep.Run(index.Burials, flags.Verdicts, index.Results);
        IReadOnlyList<ReleasedCurve> curves = CurveStep.Run(index.Bags, index.Burials, flags.Verdicts);
        IReadOnlyList<Decision> own = decisions.For(group.ContributionIds);
        return new ContributorResult(
            ReleasedRows.Of(group.ContributorId, contributions, index, snap, flags, summaries, curves, own), WorkCounts.Of(index, flags),
            EvidenceGathering.Of(index, snap, flags.Verdicts, summaries, shared.Quantities),
            [.. own.Where(d => !d.IsWithdrawal && !IsAmongAll(d) && flags.Flags.All(f => f.Overruling != d)).Select(Describe)])
        {
            LocalWords = shared.Words.EntriesFor(sent.SelectMany(c => c.WordsSent)),
        };
    }

    /// <summary>Whether a decision is about a note that only all contributors together raise.</summary>
    private bool IsAmongAll(Decision decision) => configuration.Flags.Any(f => f.CastsDoubt && f.Code == decision.FlagCode);

    internal static string Describe(Decision decision) =>
        $"{decision.FlagCode} on {AtlasCode.Of(decision.Overruled!.Value.Kind)} {decision.Overruled.Value.RecordId} of "
        + $"{decision.ContributionId}, revision {decision.Revision}, which is not flagged so";
}
