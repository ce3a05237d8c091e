using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Atlas.Releases;

/// <summary>Reads columns of a released table back, files in ordinal order of their paths.</summary>
public sealed class ReleaseReader
{
    private readonly string _folder;

    /// <exception cref="AtlasException">The atlas has no release yet, or not that one.</exception>
    public ReleaseReader(AtlasFolder atlas, string? releaseId = null)
    {
        ReleaseName? release = releaseId is null ? atlas.CurrentRelease() : atlas.ReleaseNames().FirstOrDefault(r => r.Id == releaseId);
        if (release is null)
        {
            throw new AtlasException(releaseId is null
                ? $"{atlas.Root} has no release yet; publish one first, for example with: decayatlas publish FILE."
                : $"{atlas.Root} has no release {releaseId}; see the folder releases for those there are.");
        }

        ReleaseId = release.Id;
        _folder = atlas.FolderOf(release);
    }

    /// <summary>The id, which is also in the release's descriptor.</summary>
    public string ReleaseId { get; }

    /// <summary>Whether the release has a table: one that was published by an earlier version may lack a later table.</summary>
    public bool Has(string table) => Directory.Exists(Path.Combine(_folder, table));

    /// <summary>The columns of one table.</summary>
    public ParquetColumns Table(string name) => new([.. Directory.EnumerateFiles(Path.Combine(_folder, name), "*.parquet", SearchOption.AllDirectories).Order(StringComparer.Ordinal)]);
}
