using System.Collections.Frozen;

namespace DecayAtlas.Serving.Releases;

/// <summary>The files that a folder's list of checksums names, and the list itself. Nothing else in the folder is served: a request is
/// looked up here and never becomes a path, so that no way of writing one leads out.</summary>
internal sealed class ListedFiles
{
    private const int PathBegins = 66;   // 64 hexadecimal digits and two spaces, as sha256sum writes them

    private readonly FrozenDictionary<string, ServedFile> _files;

    private ListedFiles(FrozenDictionary<string, ServedFile> files, (long, long) stamp) => (_files, Stamp) = (files, stamp);

    /// <summary>Changes whenever the list does.</summary>
    public (long, long) Stamp { get; }

    public static ListedFiles? Read(string folder)
    {
        string list = Path.Combine(folder, ReleaseWriter.ChecksumsName);
        if (StampOf(folder) is not { } stamp)
            return null;
        try
        {
            Dictionary<string, ServedFile> files = new() { [ReleaseWriter.ChecksumsName] = new(list, DurableFile.Sha256(list)) };
            foreach (string line in File.ReadLines(list))
            {
                if (line.Length > PathBegins && line[PathBegins..] is var path && IsInside(path))
                    files[path] = new ServedFile(Path.Combine(folder, path), line[..64]);
            }

            return new ListedFiles(files.ToFrozenDictionary(), stamp);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return null;
        }
    }

    /// <summary>Time and length of a folder's list; <see langword="null"/> where there is none.</summary>
    public static (long, long)? StampOf(string folder)
    {
        FileInfo list = new(Path.Combine(folder, ReleaseWriter.ChecksumsName));
        return list.Exists ? (list.LastWriteTimeUtc.Ticks, list.Length) : null;
    }

    public ServedFile? Find(string path) => _files.GetValueOrDefault(path);

    // a list is trusted as far as its own folder
    private static bool IsInside(string path) =>
        !Path.IsPathRooted(path) && !path.Contains('\\', StringComparison.Ordinal) && !path.Contains(':', StringComparison.Ordinal)
        && path.Split('/').All(s => s.Length > 0 && s[0] != '.');
}
