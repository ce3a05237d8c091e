namespace DecayAtlas.Atlas.Releases;

public interface IReleasedRows
{
    /// <summary>The rows of a table, files in ordinal order of their paths; equal texts are kept once.</summary>
    /// <exception cref="AtlasException">A file can't be read.</exception>
    IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class;

    /// <summary>The same rows with those of one file in memory at a time.</summary>
    /// <exception cref="AtlasException">A file can't be read.</exception>
    IEnumerable<TRow> Each<TRow>(Table<TRow> table)
        where TRow : class => Rows(table);
}

public sealed class ReleaseReader : IReleasedRows
{
    private readonly string _folder;
    private readonly TextPool _pool = new();
    private readonly Dictionary<string, object>? _kept;

    /// <param name="keepsRows">Whether a table that was read whole is kept for whoever asks for it next: where several look at one release,
    /// and hold its rows anyway.</param>
    /// <exception cref="AtlasException">The atlas has no release yet, or not that one.</exception>
    public ReleaseReader(AtlasFolder atlas, string? releaseId = null, bool keepsRows = false)
    {
        _kept = keepsRows ? new(StringComparer.Ordinal) : null;
        ReleaseName release = releaseId is null ? atlas.ReleaseToRead()
            : atlas.ReleaseNames().FirstOrDefault(r => r.Id == releaseId) ?? throw new AtlasException(
                $"{atlas.Root} has no release {releaseId}; see the folder releases for those there are.");
        ReleaseId = release.Id;
        _folder = atlas.FolderOf(release);
    }

    /// <summary>The id, which is also in the release's descriptor.</summary>
    public string ReleaseId { get; }

    /// <summary>What the release says of itself: datapackage.json.</summary>
    internal string DescriptorFile => Path.Combine(_folder, ReleaseDescriptor.DataPackageName);

    /// <summary>Whether the release has a table: one that was published by an earlier version may lack a later table.</summary>
    public bool Has(Table table) => Directory.Exists(Path.Combine(_folder, table.Name));

    public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class
    {
        if (_kept?.GetValueOrDefault(table.Name) is IReadOnlyList<TRow> kept)
            return kept;
        IReadOnlyList<TRow> rows = table.Read(FilesOf(table.Name), _pool);
        _kept?.Add(table.Name, rows);
        return rows;
    }

    public IEnumerable<TRow> Each<TRow>(Table<TRow> table)
        where TRow : class => _kept?.GetValueOrDefault(table.Name) as IReadOnlyList<TRow>
            ?? FilesOf(table.Name).SelectMany(file => table.Read([file], new TextPool()));

    /// <summary>The columns of one table as the release has them, whatever version published it.</summary>
    public ParquetColumns Columns(string table) => new(FilesOf(table));

    /// <exception cref="AtlasException">The release has no such table.</exception>
    internal string[] FilesOf(string table)
    {
        string folder = Path.Combine(_folder, table);
        try
        {
            return Directory.Exists(folder)
                ? [.. Directory.EnumerateFiles(folder, "*.parquet", SearchOption.AllDirectories).Order(StringComparer.Ordinal)]
                : throw new AtlasException($"Release {ReleaseId} has no table {table}; publish again, or use the version that "
                + "published it.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new AtlasException($"{folder} can't be read; give the user who runs this the right to read it, and run again.", e);
        }
    }
}
