using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Atlas;

/// <summary>Where everything in an atlas lies.</summary>
public sealed class AtlasFolder(string root)
{
    /// <summary>The folder that holds the atlas, as an absolute path.</summary>
    public string Root { get; } = Path.GetFullPath(root);

    /// <summary>Immutable Parquet parts, each named by the SHA-256 of its bytes.</summary>
    public string Parts => Path.Combine(Root, "parts");

    /// <summary>One folder a release.</summary>
    public string Releases => Path.Combine(Root, "releases");

    /// <summary>Symbolic link to the newest release.</summary>
    public string Current => Path.Combine(Root, "current");

    /// <summary>One record a run.</summary>
    public string Runs => Path.Combine(Root, "runs");

    /// <summary>What a run remembers to spare work: derived, and free to be deleted between runs.</summary>
    public string Cache => Path.Combine(Root, "cache");

    /// <summary>Makes the cache folder, for its owner alone: it knows exact places.</summary>
    public void MakeCache() => DurableFile.Guard(Cache, () =>
    {
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(Cache);
        else
            Directory.CreateDirectory(Cache, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    });

    /// <summary>One folder a trained model.</summary>
    public string Models => Path.Combine(Root, "models");

    /// <summary>One folder a map.</summary>
    public string Maps => Path.Combine(Root, "maps");

    /// <summary>The folder of one release.</summary>
    public string Release(string id) => Path.Combine(Releases, id);

    /// <summary>The id of the current release; <see langword="null"/> before the first.</summary>
    public string? CurrentReleaseId()
    {
        string? target = new DirectoryInfo(Current).LinkTarget;
        return target is not null && Directory.Exists(Current) ? Path.GetFileName(Path.TrimEndingDirectorySeparator(target)) : null;
    }
}
