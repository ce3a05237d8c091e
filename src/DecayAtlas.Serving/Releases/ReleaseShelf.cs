using System.Collections.Concurrent;

namespace DecayAtlas.Serving.Releases;

/// <summary>The releases of an atlas and the files of each that may be handed out: what its list names, and its pages.</summary>
/// <param name="isServed">Tells the releases that may be seen.</param>
internal sealed class ReleaseShelf(AtlasFolder atlas, Func<ReleaseName, bool> isServed)
{
    /// <summary>Lists that are remembered; the others are read again when they are asked for.</summary>
    private const int Remembered = 16;

    private const string Pages = ReleasePages.FolderName + "/";

    private readonly ConcurrentDictionary<string, ListedFiles> _lists = new();

    /// <summary>The release of a folder name; <see langword="null"/> where the name is none or no such release is there.</summary>
    public ReleaseName? Find(string name) =>
        ReleaseName.Parse(name) is { } release && release.ToString() == name && release.Id.Length > 0
        && release.Id.All(char.IsAsciiHexDigitLower) && isServed(release)
        && Directory.Exists(atlas.FolderOf(release)) && !IsLink(atlas.FolderOf(release)) ? release : null;

    public bool HasPages(ReleaseName release) => ListedFiles.StampOf(new ReleasePages(atlas, release).Folder) is not null;

    /// <summary>Finds a file and opens it; <see langword="null"/> where the release has no such file.</summary>
    /// <remarks>
    /// Pages are made anew in their place. A file is handed out under the checksum of a list only if that list was there before the
    /// file was opened and still is after, so that the two belong together.
    /// </remarks>
    public async Task<(ServedFile File, FileStream Stream)?> OpenAsync(ReleaseName release, string path, CancellationToken cancellation)
    {
        bool isPage = path.StartsWith(Pages, StringComparison.Ordinal);
        string root = isPage ? new ReleasePages(atlas, release).Folder : atlas.FolderOf(release);
        string name = isPage ? path[Pages.Length..] : path;
        for (int tries = 0; tries < 5; tries++)
        {
            if (ListOf(root) is { } list)
            {
                if (list.Find(name) is not { } file)
                    return null;
                if (Open(root, file) is { } stream)
                {
                    if (ListedFiles.StampOf(root) == list.Stamp)
                        return (file, stream);
                    await stream.DisposeAsync();
                }
            }

            await Task.Delay(20 * tries, cancellation);   // between the two renames that put new pages in place of old ones
        }

        return null;
    }

    private ListedFiles? ListOf(string folder)
    {
        if (ListedFiles.StampOf(folder) is not { } stamp)
            return null;
        if (_lists.TryGetValue(folder, out ListedFiles? known) && known.Stamp == stamp)
            return known;
        if (ListedFiles.Read(folder) is not { } read)
            return null;
        if (_lists.Count >= Remembered)
            _lists.Clear();
        return _lists[folder] = read;
    }

    private FileStream? Open(string root, ServedFile file)
    {
        try
        {
            for (string at = file.FullPath; at.Length > atlas.Releases.Length; at = Path.GetDirectoryName(at)!)
            {
                if (IsLink(at))
                    return null;   // releases hold none: somebody put it there, and it may lead anywhere
            }

            return new FileStream(file.FullPath, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, bufferSize: 0,
                FileOptions.Asynchronous);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return null;
        }
    }

    private static bool IsLink(string path) => (File.GetAttributes(path) & FileAttributes.ReparsePoint) != 0;
}
