using System.Text;

namespace DecayAtlas.Storage;

/// <summary>Checksums of every file below a folder, one line a file in the form that <c>sha256sum --check</c> reads.</summary>
public static class FolderChecksums
{
    private const int HashLength = 64;

    /// <summary>The lines, sorted by path; empty where there is no such folder.</summary>
    public static string Of(string folder, params string[] except)
    {
        StringBuilder lines = new();
        foreach ((string name, string path) in FilesIn(folder, except))
            lines.Append(DurableFile.Sha256(path)).Append("  ").Append(name).Append('\n');
        return lines.ToString();
    }

    /// <summary>What differs from the lines, as path and what is wrong with it, in words that finish a sentence.</summary>
    public static IEnumerable<(string Path, string What)> Differences(string folder, IEnumerable<string> lines, params string[] except)
    {
        SortedDictionary<string, string> unlisted = FilesIn(folder, except);
        foreach (string line in lines)
        {
            if (line.Length < HashLength + 3)
            {
                yield return ("", "its list of checksums holds a line that is none");
                continue;
            }

            string name = line[(HashLength + 2)..];
            if (!unlisted.Remove(name, out string? path))
                yield return (name, "it is missing");
            else if (TrySha256(path) is var sha256 && sha256 != line[..HashLength])
                yield return (name, sha256 is null ? "it can't be read" : "its bytes are not those that were written");
        }

        foreach (string name in unlisted.Keys)
            yield return (name, "it does not belong there");
    }

    // Each file by its name in the list, where a line break in it can't end the line.
    private static SortedDictionary<string, string> FilesIn(string folder, string[] except) => new(
        (Directory.Exists(folder) ? Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories) : [])
            .ToDictionary(path => NameOf(folder, path)).ExceptBy(except, file => file.Key).ToDictionary(), StringComparer.Ordinal);

    private static string NameOf(string folder, string path) => Path.GetRelativePath(folder, path).Replace('\\', '/')
        .Replace("\n", "\\n", StringComparison.Ordinal).Replace("\r", "\\r", StringComparison.Ordinal);

    private static string? TrySha256(string path)
    {
        try
        {
            return DurableFile.Sha256(path);
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            return null;
        }
    }
}
