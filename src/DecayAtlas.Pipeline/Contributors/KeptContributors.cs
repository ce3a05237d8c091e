namespace DecayAtlas.Pipeline.Contributors;

/// <summary>The rows and the evidence of contributors: kept, or computed again where the cache is gone. Safe on several threads.</summary>
internal sealed class KeptContributors(AtlasFolder atlas, GridSamples samples, ContributorWork work)
{
    /// <summary>Memory for the rows, and for the evidence, that a night computed and has not used yet: enough for a hundred thousand
    /// bags.</summary>
    private const long KeptBytes = 64L << 20;

    private readonly Cache<RowRun> _rows = new(atlas, "rows", RowFormat, KeptBytes);
    private readonly Cache<Evidence> _evidence = new(atlas, "evidence", keptBytes: KeptBytes);
    private readonly Lock _recomputing = new();

    // as the columns of their release, so that those of a program with other columns are not read
    private static CacheFormat<RowRun> RowFormat { get; } = new(
        InputDigest.Of(AtlasTables.All.SelectMany(t =>
            (string[])[t.Name, .. t.PartitionedBy, .. t.ColumnInfos.SelectMany(c => new[] { c.Name, c.Type })])),
        (stream, run) => run.Save(stream),
        (file, bytes) => AtlasTables.OfFile(file).LoadRun(bytes));

    /// <summary>Computes a contributor and keeps what came of it; <see langword="null"/> where it failed.</summary>
    public ContributorResult? Compute(PlannedContributor planned, out WorkFailure? failure)
    {
        ContributorResult? result = WorkFailure.Catch(() => work.Compute(planned.Group), out failure);
        if (result is not null)
        {
            _rows.Save(planned.Key, result.Rows);
            _evidence.Save(planned.Key, result.Evidence);
        }

        return result;
    }

    public bool Has(ComputedContributor computed) =>
        computed.Files.All(file => _rows.Load(computed.Key, file) is not null) && _evidence.Load(computed.Key) is not null;

    public RowRun RowsOf(PlannedContributor planned, string file) =>
        KeptOrComputed(planned, () => _rows.Load(planned.Key, file), result => result.Rows.RunOf(file));

    public Evidence EvidenceOf(PlannedContributor planned) =>
        KeptOrComputed(planned, () => _evidence.Load(planned.Key), result => result.Evidence);

    public void KeepOnly(IReadOnlyCollection<string> keys)
    {
        _rows.KeepOnly(keys);
        _evidence.KeepOnly(keys);
    }

    private T KeptOrComputed<T>(PlannedContributor planned, Func<T?> kept, Func<ContributorResult, T> of)
        where T : class
    {
        if (kept() is { } found)
            return found;

        // rare, so one at a time: the first computes the contributor, the others find it kept
        lock (_recomputing)
        {
            if (kept() is { } meanwhile)
                return meanwhile;
            if (planned.IsEarlier)
                throw Failed(new WorkFailure("its rows of an earlier run are gone", IsMistake: false));
            samples.Cover([planned]);
            return of(Compute(planned, out WorkFailure? failure) ?? throw Failed(failure!));
        }

        ContributorFailedException Failed(WorkFailure failure) => new(new FailedContributor(planned.ContributorId, failure, false));
    }
}
