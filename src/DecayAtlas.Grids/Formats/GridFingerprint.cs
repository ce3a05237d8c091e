using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Grids.Formats;

/// <summary>Names the exact content of a grid or a polygon layer, so that a sampled value can say which bytes it came from.</summary>
public static class GridFingerprint
{
    /// <summary>What belongs to a shapefile: attributes, reference system, index, code page. Each of them changes what is read.</summary>
    private static readonly string[] ShapefileSiblings = [".cpg", ".dbf", ".prj", ".shp", ".shx"];

    /// <summary>
    /// "sha256:" and the SHA-256 of the file's bytes in lower-case hexadecimal; the file is streamed. For a pattern of
    /// tiles, and for a shapefile, which is several files, it is that of the list of their names and fingerprints.
    /// </summary>
    /// <exception cref="GridException">The file cannot be read.</exception>
    public static string OfFile(string path) => Of(path, OfOneFile);

    /// <summary>The fingerprint of a layer from those of its files, which a caller may remember.</summary>
    public static string Of(string path, Func<string, string> ofOneFile)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(ofOneFile);
        IReadOnlyList<string> files = FilesOf(path);
        if (files is [string only] && !TilePattern.Is(path))
            return ofOneFile(only);
        string lines = string.Concat(files.Select(file => $"{Path.GetFileName(file)} {ofOneFile(file)}\n"));
        return "sha256:" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(lines)));
    }

    /// <exception cref="GridException">A pattern matches nothing.</exception>
    public static IReadOnlyList<string> FilesOf(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (TilePattern.Is(path))
            return [.. TilePattern.Expand(path)];
        if (!path.EndsWith(".shp", StringComparison.OrdinalIgnoreCase) || Path.GetDirectoryName(Path.GetFullPath(path)) is not { } folder
            || !Directory.Exists(folder))
        {
            return [path];
        }

        string name = Path.GetFileNameWithoutExtension(path);
        string[] parts =
        [
            .. Directory.EnumerateFiles(folder)
                .Where(file => Path.GetFileNameWithoutExtension(file) == name
                    && ShapefileSiblings.Contains(Path.GetExtension(file), StringComparer.OrdinalIgnoreCase))
                .Order(StringComparer.Ordinal),
        ];
        return parts.Length == 0 ? [path] : parts;
    }

    /// <exception cref="GridException">The file cannot be read.</exception>
    public static string OfOneFile(string path)
    {
        try
        {
            return "sha256:" + DurableFile.Sha256(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new GridException($"{path} cannot be read for its fingerprint: {e.Message.TrimEnd('.')}.", e);
        }
    }
}
