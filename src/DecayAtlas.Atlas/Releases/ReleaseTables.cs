using System.Collections;

namespace DecayAtlas.Atlas.Releases;

/// <summary>The rows that one contributor brings, table by table, each in the order of its key.</summary>
public sealed class ReleaseTables : IEnumerable<Table>
{
    private readonly Dictionary<Table, Func<string, IEnumerable<(string File, RowRun Run)>>> _runsOf = [];

    /// <summary>Adds the rows of one table.</summary>
    public void Add<TRow>(Table<TRow> table, IReadOnlyList<TRow> rows)
        where TRow : class => _runsOf.Add(table, contributorId => table.RunsOf(rows, contributorId));

    /// <summary>The rows as columns, by the file of a release that they belong to.</summary>
    internal IEnumerable<(string File, RowRun Run)> RunsOf(string contributorId) =>
        _runsOf.Values.SelectMany(runsOf => runsOf(contributorId));

    public IEnumerator<Table> GetEnumerator() => _runsOf.Keys.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}

/// <summary>What a release says of itself besides its rows.</summary>
/// <param name="Title">Title of the data set.</param>
/// <param name="Publisher">Who publishes it.</param>
/// <param name="Settings">Every setting that bears on a number, as JSON; a change of it makes a new release.</param>
/// <param name="SoftwareVersion">Version of the software that computed it.</param>
/// <param name="Licences">Licences of the contributions, each once, in ordinal order.</param>
public sealed record ReleaseStatement(string Title, string Publisher, string Settings, string SoftwareVersion,
    IReadOnlyList<string> Licences);

/// <summary>One file of a release.</summary>
/// <param name="Path">Path in the release, with forward slashes.</param>
/// <param name="Sha256">SHA-256 of its bytes.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Table">The table it belongs to; <see langword="null"/> for an export.</param>
/// <param name="Rows">Rows in it.</param>
public sealed record ReleaseFile(string Path, string Sha256, long Bytes, string? Table, int Rows);

/// <summary>What publishing did.</summary>
/// <param name="Release">The release that is current now.</param>
/// <param name="IsNew">False where nothing had changed, so that no release was written.</param>
/// <param name="RowCounts">Rows a table.</param>
/// <param name="ChecksumsSha256">SHA-256 of the release's list of checksums.</param>
public sealed record ReleaseOutcome(ReleaseName Release, bool IsNew, IReadOnlyDictionary<string, int> RowCounts, string ChecksumsSha256);
