using System.Security.Cryptography;

namespace DecayAtlas.Grids;

/// <summary>Names the exact content of a grid file, so that a sampled value can say which bytes it came from.</summary>
public static class GridFingerprint
{
    /// <summary>"sha256:" and the SHA-256 of the file's bytes in lower-case hexadecimal; the file is streamed.</summary>
    /// <exception cref="GridException">The file cannot be read.</exception>
    public static string OfFile(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
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
