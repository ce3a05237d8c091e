namespace DecayAtlas.Atlas.Releases;

/// <summary>All released rows of one contributor, sorted by the file of the release that they belong to.</summary>
public sealed class ContributorRows
{
    private readonly SortedDictionary<string, RowRun> _runs;

    private ContributorRows(SortedDictionary<string, RowRun> runs) => _runs = runs;

    public static ContributorRows Of(string contributorId, ReleaseTables tables)
    {
        SortedDictionary<string, RowRun> runs = new(StringComparer.Ordinal);
        foreach ((string file, RowRun run) in tables.RunsOf(contributorId))
            runs[file] = run;
        return new ContributorRows(runs);
    }

    /// <summary>Rows a file, files in ordinal order.</summary>
    public IEnumerable<KeyValuePair<string, int>> RowsByFile => _runs.Select(run => KeyValuePair.Create(run.Key, run.Value.Count));

    /// <summary>The rows that go to one file.</summary>
    public RowRun RunOf(string file) => _runs[file];

    /// <summary>All of them, by file.</summary>
    public IReadOnlyCollection<KeyValuePair<string, RowRun>> Runs => _runs;
}
