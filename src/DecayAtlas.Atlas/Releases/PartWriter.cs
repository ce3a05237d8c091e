using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace DecayAtlas.Atlas.Releases;

/// <summary>
/// Writes files of a release as parts: immutable files named by the SHA-256 of their bytes, shared by all releases that hold the same
/// content. Safe on several threads.
/// </summary>
public sealed class PartWriter
{
    private readonly AtlasFolder _folder;
    private readonly ConcurrentDictionary<string, bool> _unflushed = new(StringComparer.Ordinal);

    /// <summary>Makes the folder of the parts, and sweeps what a killed run left half written.</summary>
    /// <exception cref="AtlasException">The atlas can't be written; so from the other members too.</exception>
    public PartWriter(AtlasFolder folder)
    {
        _folder = folder;
        Guarded(() =>
        {
            Directory.CreateDirectory(folder.Parts);
            foreach (string leftover in Directory.EnumerateFiles(folder.Parts, "*" + DurableFile.UnfinishedSuffix))
                File.Delete(leftover);
            return true;
        });
    }

    /// <summary>Brings to the disk every part written since the last call; until then a loss of power may undo them.</summary>
    public void Flush() => Guarded(() =>
    {
        FileSystemCall.Flush([.. _unflushed.Keys]);
        _unflushed.Clear();
        return true;
    });

    public bool Has(ReleaseFile file) => File.Exists(file.PartIn(_folder));

    /// <summary>Writes one file of a table from the runs of the contributors that have rows in it, in the order given.</summary>
    public ReleaseFile Write(string file, IReadOnlyList<RowRun> runs)
    {
        Table table = AtlasTables.OfFile(file);
        return Put(file, table.Name, runs.Sum(r => r.Count), stream => table.Write(stream, runs));
    }

    /// <summary>Writes one file of rows that belong to no contributor alone; without a name that of the whole table.</summary>
    public ReleaseFile Write<TRow>(Table<TRow> table, IReadOnlyList<TRow> rows, string? file = null)
        where TRow : class => rows.Count == 0 && file is null ? WriteEmpty(table)
            : Write(file ?? $"{table.Name}/{table.Name}-0.parquet", [table.RunOf(rows)]);

    /// <summary>Tables that are not released yet, read back from their parts.</summary>
    public IReleasedRows RowsOf(IReadOnlyList<ReleaseFile> files) => new PartRows(_folder, files);

    public ReleaseFile WriteEmpty(Table table)
    {
        string partition = string.Concat(table.PartitionedBy.Select(name => $"{name}={Shelf.MissingValue}/"));
        string file = $"{table.Name}/{partition}{table.Name}{(table.PartitionedBy.Count == 0 ? "-0" : "")}.parquet";
        return Put(file, table.Name, 0, stream => table.Write(stream, []));
    }

    /// <summary>Writes the GeoJSON export from the parts of sites and site campaigns of the same release.</summary>
    public ReleaseFile WriteGeoJson(IEnumerable<ReleaseFile> parts)
    {
        IReleasedRows rows = RowsOf([.. parts]);
        return Put(SiteGeoJson.FileName, null, 0,
            stream => SiteGeoJson.Write(stream, rows.Rows(AtlasTables.Sites), rows.Rows(AtlasTables.SiteCampaigns)));
    }

    // A part is made in memory: the Parquet library writes asynchronously, and on a file each of its many small writes would wait for a
    // thread of the pool that the other writers hold.
    private ReleaseFile Put(string releasePath, string? table, int rows, Action<Stream> write) => Guarded(() =>
    {
        using MemoryStream made = new();
        write(made);
        ReadOnlySpan<byte> bytes = made.GetBuffer().AsSpan(0, (int)made.Length);
        ReleaseFile file = new(releasePath, Convert.ToHexStringLower(SHA256.HashData(bytes)), table, rows);
        string part = file.PartIn(_folder);
        if (File.Exists(part) && DurableFile.Sha256(part) == file.Sha256)   // kept: an older release may hold a link to it
            return file;

        DurableFile.WriteLazily(part, stream =>
        {
            made.WriteTo(stream);
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(stream.SafeFileHandle, UnixFileMode.UserRead | UnixFileMode.GroupRead | UnixFileMode.OtherRead);
        }, mark: "." + Path.GetRandomFileName());
        _unflushed[part] = true;
        return file;
    });

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

    private sealed class PartRows(AtlasFolder folder, IReadOnlyList<ReleaseFile> files) : IReleasedRows
    {
        private readonly TextPool _pool = new();

        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => table.Read(PartsOf(table), _pool);

        public IEnumerable<TRow> Each<TRow>(Table<TRow> table)
            where TRow : class => PartsOf(table).SelectMany(part => table.Read([part], new TextPool()));

        private IEnumerable<string> PartsOf(Table table) =>
            files.Where(f => f.Table == table.Name).OrderBy(f => f.Path, StringComparer.Ordinal).Select(f => f.PartIn(folder));
    }
}
