using System.Collections;

namespace DecayAtlas.Atlas.Releases;

/// <summary>All released rows of one contributor, by the file of the release that they belong to; files in ordinal order.</summary>
public sealed class ContributorRows(string contributorId) : IEnumerable<KeyValuePair<string, RowRun>>
{
    private readonly SortedDictionary<string, RowRun> _runs = new(StringComparer.Ordinal);

    public void Add<TRow>(Table<TRow> table, IEnumerable<TRow> rows)
        where TRow : class
    {
        foreach ((string file, RowRun run) in table.RunsOf(rows, contributorId))
            _runs[file] = run;
    }

    public RowRun RunOf(string file) => _runs[file];

    public IEnumerator<KeyValuePair<string, RowRun>> GetEnumerator() => _runs.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
