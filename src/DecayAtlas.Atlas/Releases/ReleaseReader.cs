using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Atlas.Releases;

/// <summary>Reads columns of a released table back, files in ordinal order of their paths.</summary>
public sealed class ReleaseReader
{
    private readonly string _folder;

    /// <exception cref="AtlasException">The atlas has no release yet, or not that one.</exception>
    public ReleaseReader(AtlasFolder atlas, string? releaseId = null)
    {
        ReleaseId = releaseId ?? atlas.CurrentReleaseId()
            ?? throw new AtlasException($"{atlas.Root} has no release yet; publish one first, for example with: decayatlas publish FILE.");
        _folder = atlas.Release(ReleaseId);
        if (!Directory.Exists(_folder))
            throw new AtlasException($"{atlas.Root} has no release {ReleaseId}; see the folder releases for those there are.");
    }

    public string ReleaseId { get; }

    /// <summary>The columns of one table.</summary>
    public ParquetColumns Table(string name) => new([.. Directory.EnumerateFiles(Path.Combine(_folder, name), "*.parquet", SearchOption.AllDirectories).Order(StringComparer.Ordinal)]);
}
