using DecayAtlas.Contributions;

namespace DecayAtlas.Atlas.Storage;

/// <summary>
/// Folders of made things (models, maps), each named by an id that stands for all that went into it, with a link
/// <c>current</c> to the newest. A folder appears whole or not at all, and is never made twice.
/// </summary>
public static class MadeFolder
{
    /// <summary>The file that holds the SHA-256 of all others in the folder.</summary>
    public const string ChecksumsName = "checksums.sha256";

    private const string StagingPrefix = ".making-";

    /// <summary>Makes the folder <paramref name="id"/> unless it is there, and points <c>current</c> at it.</summary>
    /// <param name="fill">Writes the content into the folder it is given.</param>
    /// <returns>The folder, and whether it was made now.</returns>
    /// <exception cref="AtlasException">The folder can't be written.</exception>
    public static (string Path, bool IsNew) Ensure(string parent, string id, Action<string> fill)
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
                fill(staging);
                DurableFile.WriteText(Path.Combine(staging, ChecksumsName), FolderChecksums.Of(staging));
                Directory.Move(staging, path);
            }

            FileSystemCall.SwapLink(CurrentOf(parent), id);
            return (path, isNew);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new AtlasException($"{path} could not be written because {StorageFault.Reason(e)}; mend that and run again.", e);
        }
    }

    /// <summary>The link to the newest folder.</summary>
    public static string CurrentOf(string parent) => Path.Combine(parent, "current");

    /// <summary>The id of the newest folder; <see langword="null"/> before the first.</summary>
    public static string? CurrentIdOf(string parent) => new DirectoryInfo(CurrentOf(parent)).LinkTarget is { } target ? Path.GetFileName(target) : null;
}
