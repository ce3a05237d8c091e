using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Atlas.Tables;

namespace DecayAtlas.Atlas.Releases;

/// <summary>Writes files of a release into the part store.</summary>
public sealed class PartWriter
{
    private readonly AtlasFolder _folder;
    private readonly PartStore _store;

    /// <exception cref="AtlasException">The folder of the parts can't be made.</exception>
    public PartWriter(AtlasFolder folder)
    {
        _folder = folder;
        _store = Guarded(() => new PartStore(folder.Parts));
    }

    /// <summary>Brings to the disk what was written, so that it may be referred to.</summary>
    /// <exception cref="AtlasException">The disk refuses.</exception>
    public void Flush() => Guarded(() =>
    {
        _store.Flush();
        return true;
    });

    /// <summary>Whether a part is there already.</summary>
    public bool Has(ReleaseFile file) => File.Exists(_store.PathOf(file.Sha256, Path.GetExtension(file.Path)));

    /// <summary>Writes one file of a table from the runs of the contributors that have rows in it, in the order given. Safe on several threads.</summary>
    /// <exception cref="AtlasException">The atlas can't be written.</exception>
    public ReleaseFile Write(string file, IReadOnlyList<RowRun> runs)
    {
        var feed = TableFeed.OfFile(file);
        return Put(file, feed.Table.Name, runs.Sum(r => r.Count), stream => feed.Write(stream, runs));
    }

    /// <summary>Writes a table that is no contributor's, whole.</summary>
    public ReleaseFile WriteWhole<TRow>(Table<TRow> table, IReadOnlyList<TRow> rows) where TRow : notnull =>
        rows.Count == 0 ? WriteEmpty(table) : Write($"{table.Name}/{table.Name}-0.parquet", [new RowRun([.. table.Columns.Select(c => c.Take(rows))])]);

    /// <summary>Reads a table back from its files.</summary>
    public ParquetColumns Read(IEnumerable<ReleaseFile> files) => new([.. files.OrderBy(f => f.Path, StringComparer.Ordinal).Select(f => _store.PathOf(f.Sha256, ".parquet"))]);

    /// <summary>Writes one file of flags that belong to no contributor alone.</summary>
    public ReleaseFile WriteFlags(string file, IReadOnlyList<Flag> flags) =>
        Put(file, AtlasTables.Flags.Name, flags.Count, stream => TableFeed.OfFile(file).Write(stream, [new RowRun([.. AtlasTables.Flags.Columns.Select(c => c.Take(flags))])]));

    /// <summary>Writes the file that shows the columns of a table without rows.</summary>
    public ReleaseFile WriteEmpty(Table table)
    {
        string partition = string.Concat(table.PartitionedBy.Select(name => $"{name}={PartitionKey<int>.MissingValue}/"));
        string file = $"{table.Name}/{partition}{table.Name}{(table.PartitionedBy.Count == 0 ? "-0" : "")}.parquet";
        return Put(file, table.Name, 0, stream => TableFeed.OfFile(file).Write(stream, []));
    }

    /// <summary>Writes the GeoJSON export from the site parts of the same release.</summary>
    public ReleaseFile WriteGeoJson(IEnumerable<ReleaseFile> siteParts) =>
        Put(SiteGeoJson.FileName, null, 0, stream => SiteGeoJson.Write(stream, siteParts.Select(p => _store.PathOf(p.Sha256, ".parquet"))));

    private ReleaseFile Put(string file, string? table, int rows, Action<Stream> write) => Guarded(() => _store.Put(file, table, rows, write));

    private T Guarded<T>(Func<T> write)
    {
        try
        {
            return write();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw AtlasException.NotWritten(_folder, e);
        }
    }
}
