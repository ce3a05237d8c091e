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

    /// <summary>Writes one file of a table from the runs of the contributors that have rows in it, in the order given. Safe on several
    /// threads.</summary>
    /// <exception cref="AtlasException">The atlas can't be written.</exception>
    public ReleaseFile Write(string file, IReadOnlyList<RowRun> runs)
    {
        Table table = AtlasTables.OfFile(file);
        return Put(file, table.Name, runs.Sum(r => r.Count), stream => table.Write(stream, runs));
    }

    /// <summary>Writes a table that is no contributor's, whole.</summary>
    public ReleaseFile WriteWhole<TRow>(Table<TRow> table, IReadOnlyList<TRow> rows)
        where TRow : class => rows.Count == 0 ? WriteEmpty(table) : Write($"{table.Name}/{table.Name}-0.parquet", [table.RunOf(rows)]);

    /// <summary>Tables that are not released yet, read back from their parts.</summary>
    public IReleasedRows RowsOf(IReadOnlyList<ReleaseFile> files) => new PartRows(this, files);

    /// <summary>Writes one file of rows that belong to no contributor alone, beside those of the contributors.</summary>
    public ReleaseFile WriteBeside<TRow>(Table<TRow> table, string file, IReadOnlyList<TRow> rows)
        where TRow : class => Write(file, [table.RunOf(rows)]);

    /// <summary>Writes the file that shows the columns of a table without rows.</summary>
    public ReleaseFile WriteEmpty(Table table)
    {
        string partition = string.Concat(table.PartitionedBy.Select(name => $"{name}={Shelf.MissingValue}/"));
        string file = $"{table.Name}/{partition}{table.Name}{(table.PartitionedBy.Count == 0 ? "-0" : "")}.parquet";
        return Put(file, table.Name, 0, stream => table.Write(stream, []));
    }

    /// <summary>Writes the GeoJSON export from the site parts of the same release.</summary>
    public ReleaseFile WriteGeoJson(IEnumerable<ReleaseFile> siteParts) =>
        Put(SiteGeoJson.FileName, null, 0, stream => SiteGeoJson.Write(stream, RowsOf([.. siteParts]).Rows(AtlasTables.Sites)));

    private ReleaseFile Put(string file, string? table, int rows, Action<Stream> write) =>
        Guarded(() => _store.Put(file, table, rows, write));

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

    private sealed class PartRows(PartWriter writer, IReadOnlyList<ReleaseFile> files) : IReleasedRows
    {
        private readonly TextPool _pool = new();

        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => table.Read(
                files.Where(f => f.Table == table.Name).OrderBy(f => f.Path, StringComparer.Ordinal)
                    .Select(f => writer._store.PathOf(f.Sha256, ".parquet")),
                _pool);
    }
}
