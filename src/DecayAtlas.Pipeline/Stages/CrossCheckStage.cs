namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// The evidence of all contributors -> notes on what stands apart among all of them. Notes only: were the use of a record to hang on what
/// others send, each new contribution would have everybody computed anew. Done again only when some contributor's rows changed.
/// </summary>
internal static class CrossCheckStage
{
    /// <summary>The file of a release that holds these flags, beside those of single contributors.</summary>
    public const string FileName = "flags/flags-across.parquet";

    /// <summary>What is released of it.</summary>
    public sealed record Rows(IReadOnlyList<Flag> Flags, NotedRecords Noted);

    /// <param name="Found"><see langword="null"/> where the files of an earlier run stand.</param>
    public sealed record Output(CrossChecked Result, Rows? Found) : IStageOutput
    {
        public string Sentence => $"{(Found is null ? "unchanged: " : "")}{Result.Flags.Values.Sum()} "
            + $"notes{string.Concat(Result.NotJudged.Select(s => "; " + s))}";
    }

    public static Output Run(PipelineConfiguration configuration, ComputeStage compute, ComputeStage.Output computed,
        Action<string, int, int>? progress)
    {
        // the keys stand for everything the rows were made from, settings and program among it
        return computed.Done.CrossCheck is { } known && known.Key == KeyOf(computed)
            && known.Files.All(new PartWriter(new AtlasFolder(configuration.Atlas)).Has)
            ? new Output(known, null)
            : Find(configuration, compute, computed, progress);
    }

    private static string KeyOf(ComputeStage.Output computed) =>
        InputDigest.Of(["cross-check", .. computed.Contributors.Select(c => c.Key)]);

    /// <summary>The stage, whether or not its flags are remembered.</summary>
    public static Output Find(PipelineConfiguration configuration, ComputeStage compute, ComputeStage.Output computed,
        Action<string, int, int>? progress = null)
    {
        Evidence[] evidence = new Evidence[computed.Contributors.Count];
        int read = 0;
        Parallel.For(0, evidence.Length, i =>
        {
            evidence[i] = compute.Kept.EvidenceOf(computed.Contributors[i]);
            progress?.Invoke("reading what was computed", Interlocked.Increment(ref read), evidence.Length);
        });

        (IReadOnlyList<Flag> raised, IReadOnlyList<string> notJudged) = AllChecks.Raise(evidence, configuration.Flags);
        HashSet<string> doubts = [.. configuration.Flags.Where(f => f.CastsDoubt).Select(f => f.Code)];
        DecisionList decisions = compute.DecisionsFor(computed);
        Flag[] flags = [.. raised.Select(f => f with { Overruling = decisions.Overruling(f) })];
        string[] idle =
        [
            .. decisions.All.Where(d => !d.IsWithdrawal && doubts.Contains(d.FlagCode!) && flags.All(f => f.Overruling != d))
                .Select(ContributorWork.Describe),
        ];
        return new Output(new CrossChecked(KeyOf(computed), [], Tally.Of(flags, f => f.Code), notJudged, idle),
            new Rows(flags, NotedOf(compute, computed, flags.Where(f => doubts.Contains(f.Code) && f.Overruling is null))));
    }

    private static NotedRecords NotedOf(ComputeStage compute, ComputeStage.Output computed, IEnumerable<Flag> standing)
    {
        ILookup<string, Flag> doubts = standing.ToLookup(f => f.Record.ContributionId, StringComparer.Ordinal);
        NotedRecords[] noted = new NotedRecords[computed.Contributors.Count];
        Parallel.For(0, noted.Length, i =>
        {
            PlannedContributor contributor = computed.Contributors[i];
            Flag[] own = [.. contributor.Group.ContributionIds.SelectMany(id => doubts[id])];
            noted[i] = own.Length == 0 ? NotedRecords.None : NotedRecords.Of(contributor.ContributorId, own, BurialsOf(contributor));
        });
        return NotedRecords.Joined(noted);

        ReleasedBurial[] BurialsOf(PlannedContributor contributor) =>
        [
            .. computed.Done.Contributors[contributor.ContributorId].Files.Where(f => AtlasTables.OfFile(f) == AtlasTables.Burials)
                .SelectMany(f => AtlasTables.Burials.RowsOf(compute.Kept.RowsOf(contributor, f))),
        ];
    }
}
