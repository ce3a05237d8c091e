namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// The evidence of all contributors -> notes on what stands apart among all of them. Notes only: were the use of a record to hang on what
/// others send, each new contribution would have everybody computed anew. Done again only when some contributor's rows changed.
/// </summary>
internal static class CrossCheckStage
{
    /// <summary>The file of a release that holds these flags, beside those of single contributors.</summary>
    public const string FileName = "flags/flags-across.parquet";

    /// <param name="Flags"><see langword="null"/> where those of an earlier run stand.</param>
    public sealed record Output(CrossChecked Result, IReadOnlyList<Flag>? Flags) : IStageOutput
    {
        public string Sentence => $"{(Flags is null ? "unchanged: " : "")}{Result.Flags.Values.Sum()} "
            + $"notes{string.Concat(Result.NotJudged.Select(s => "; " + s))}";
    }

    public static Output Run(PipelineConfiguration configuration, ComputeStage compute, ComputeStage.Output computed,
        Action<string, int, int>? progress)
    {
        // the keys stand for everything the rows were made from, settings and program among it
        return computed.Done.CrossCheck is { } known && known.Key == KeyOf(computed)
            && (known.File is null || new PartWriter(new AtlasFolder(configuration.Atlas)).Has(known.File))
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

        (IReadOnlyList<Flag> flags, IReadOnlyList<string> notJudged) = AllChecks.Raise(evidence, configuration.Flags);
        return new Output(new CrossChecked(KeyOf(computed), null, Tally.Of(flags, f => f.Code), notJudged), flags);
    }
}
