namespace DecayAtlas.Atlas;

public sealed class AtlasFolder(string root)
{
    /// <summary>The folder that holds the atlas, as an absolute path.</summary>
    public string Root { get; } = Path.GetFullPath(root);

    /// <summary>Immutable Parquet parts, each named by the SHA-256 of its bytes.</summary>
    public string Parts => Path.Combine(Root, "parts");

    public string Releases => Path.Combine(Root, "releases");

    /// <summary>Symbolic link to the newest release.</summary>
    public string Current => Path.Combine(Root, "current");

    public string Runs => Path.Combine(Root, "runs");

    /// <summary>Drafts of mails to senders, for the curator alone.</summary>
    public string Mails => Path.Combine(Root, "mails");

    /// <summary>What a run remembers to spare work: derived, and free to be deleted between runs.</summary>
    public string Cache => Path.Combine(Root, "cache");

    /// <summary>What was fetched of grids over the network.</summary>
    public string RemoteCache => Path.Combine(Cache, "remote");

    /// <summary>Makes a folder for its owner alone: the cache knows exact places, and run records say what people sent.</summary>
    public static void MakePrivate(string folder) => DurableFile.Guard(folder, () =>
    {
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(folder);
        else
            Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    });

    public string Models => Path.Combine(Root, "models");

    public string Maps => Path.Combine(Root, "maps");

    public IReadOnlyList<ReleaseName> ReleaseNames() => Directory.Exists(Releases)
        ? [.. Directory.EnumerateDirectories(Releases).Select(d => ReleaseName.Parse(Path.GetFileName(d))).OfType<ReleaseName>()
            .OrderBy(r => r.Number)]
        : [];

    /// <summary>The current release, for those who can't do without.</summary>
    /// <exception cref="AtlasException">There is none yet.</exception>
    public ReleaseName ReleaseToRead() => CurrentRelease() ?? throw new AtlasException(
        $"{Root} has no release yet; publish one first, for example with: decayatlas publish FILE.");

    public string FolderOf(ReleaseName release) => Path.Combine(Releases, release.ToString());

    /// <summary>The current release, or the newest there is where the link to it is gone; <see langword="null"/> before the
    /// first.</summary>
    /// <exception cref="AtlasException">The releases can't be listed.</exception>
    public ReleaseName? NewestRelease()
    {
        try
        {
            return CurrentRelease() ?? (ReleaseNames() is [.., { } newest] ? newest : null);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new AtlasException($"{Releases} can't be read; mount it, or give the user who runs this the right to read it, and "
                + "run again.", e);
        }
    }

    /// <summary>The current release; <see langword="null"/> before the first.</summary>
    public ReleaseName? CurrentRelease()
    {
        string? target = new DirectoryInfo(Current).LinkTarget;
        return target is not null && Directory.Exists(Current)
            ? ReleaseName.Parse(Path.GetFileName(Path.TrimEndingDirectorySeparator(target))) : null;
    }
}
