namespace DecayAtlas.Storage;

/// <summary>
/// Folders of made things (models, maps), each named by an id that stands for all that went into it, with a link
/// <c>current</c> (or another name, where several kinds lie side by side) to the newest. A folder appears whole or not at all, and is
/// never made twice.
/// </summary>
public static class MadeFolder
{
    /// <summary>The file that holds the SHA-256 of all others in the folder.</summary>
    public const string ChecksumsName = "checksums.sha256";

    /// <summary>The link to the newest, where there is one kind only or one that comes first.</summary>
    public const string DefaultLink = "current";

    private const string StagingPrefix = ".making-";

    /// <summary>Makes the folder <paramref name="id"/> unless it is there, and points <c>current</c> at it.</summary>
    /// <param name="fill">Writes the content into the folder it is given.</param>
    /// <param name="link">Name of the link; it begins with <c>current</c>.</param>
    /// <returns>The folder, and whether it was made now.</returns>
    /// <exception cref="StorageException">The folder can't be written.</exception>
    public static (string Path, bool IsNew) Ensure(string parent, string id, Action<string> fill, string link = DefaultLink)
    {
        string path = Path.Combine(parent, id);
        try
        {
            Directory.CreateDirectory(parent);
            foreach (string leftover in Directory.EnumerateDirectories(parent, StagingPrefix + "*"))
                Directory.Delete(leftover, recursive: true);

            bool isNew = !Directory.Exists(path);
            if (isNew)
            {
                string staging = Path.Combine(parent, StagingPrefix + id);
                Directory.CreateDirectory(staging);
                try
                {
                    fill(staging);
                    DurableFile.WriteText(Path.Combine(staging, ChecksumsName), FolderChecksums.Of(staging));
                    Directory.Move(staging, path);
                }
                catch
                {
                    TryDelete(staging);
                    throw;
                }
            }

            FileSystemCall.SwapLink(CurrentOf(parent, link), id);
            return (path, isNew);
        }
        catch (Exception e) when (StorageFault.Is(e))
        {
            throw StorageException.NotWritten(path, e);
        }
    }

    /// <summary>Takes a link away, where nothing is the newest any more; the folders stay.</summary>
    /// <exception cref="StorageException">It can't be taken away.</exception>
    public static void Unlink(string parent, string link)
    {
        string path = CurrentOf(parent, link);
        try
        {
            if (CurrentIdOf(parent, link) is null)
                return;
            // a link to a folder is a file on Unix and a folder on Windows
            if (OperatingSystem.IsWindows())
                Directory.Delete(path);
            else
                File.Delete(path);
        }
        catch (Exception e) when (StorageFault.Is(e))
        {
            throw StorageException.NotWritten(path, e);
        }
    }

    /// <summary>Deletes a folder where it can be. What failed is the news, not that its half can't be deleted either; the next run tries
    /// again.</summary>
    public static void TryDelete(string folder)
    {
        try
        {
            if (Directory.Exists(folder))
                Directory.Delete(folder, recursive: true);
        }
        catch (Exception e) when (StorageFault.Is(e))
        {
        }
    }

    /// <summary>The link to the newest folder.</summary>
    public static string CurrentOf(string parent, string link = DefaultLink) => Path.Combine(parent, link);

    /// <summary>The id of the newest folder; <see langword="null"/> before the first.</summary>
    public static string? CurrentIdOf(string parent, string link = DefaultLink) =>
        new DirectoryInfo(CurrentOf(parent, link)).LinkTarget is { } target ? Path.GetFileName(target) : null;

    /// <summary>The ids that any link <c>current...</c> points at.</summary>
    public static IReadOnlySet<string> CurrentIdsOf(string parent) => Directory.Exists(parent)
        ? Directory.EnumerateDirectories(parent, DefaultLink + "*").Select(link => CurrentIdOf(parent, Path.GetFileName(link)))
            .OfType<string>().ToHashSet()
        : new HashSet<string>();
}
