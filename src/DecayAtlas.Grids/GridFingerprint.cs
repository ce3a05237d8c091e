using System.Security.Cryptography;
using System.Text;
using DecayAtlas.Grids.Mosaic;

namespace DecayAtlas.Grids;

/// <summary>Names the exact content of a grid file, so that a sampled value can say which bytes it came from.</summary>
public static class GridFingerprint
{
    /// <summary>
    /// "sha256:" and the SHA-256 of the file's bytes in lower-case hexadecimal; the file is streamed. For a pattern of
    /// tiles it is that of the list of their names and fingerprints.
    /// </summary>
    /// <exception cref="GridException">The file cannot be read.</exception>
    public static string OfFile(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (TilePattern.Is(path))
        {
            string[] tiles = [.. TilePattern.Expand(path).Select(tile => $"{Path.GetFileName(tile)} {OfFile(tile)}\n")];
            return "sha256:" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(tiles))));
        }

        try
        {
            using FileStream stream = File.OpenRead(path);
            return "sha256:" + Convert.ToHexStringLower(SHA256.HashData(stream));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new GridException($"{path} cannot be read for its fingerprint: {e.Message.TrimEnd('.')}.", e);
        }
    }
}
