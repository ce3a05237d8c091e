using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Contributions;

/// <summary>
/// The address of a contribution's content: SHA-256 over one line a file, <c>&lt;sha256 of the bytes&gt;  &lt;path&gt;\n</c>,
/// sorted by path (ordinal), paths with '/'. It is what <c>sha256sum</c> prints for the sorted files, hashed once
/// more; so it can be recomputed without this program and is the same for a folder and for a zip of it.
/// </summary>
public static class ContentHash
{
    public const int Length = SHA256.HashSizeInBytes * 2;

    /// <summary>Hash of files given as path and SHA-256 in lower-case hex.</summary>
    public static string Of(IEnumerable<KeyValuePair<string, string>> sha256ByPath)
    {
        StringBuilder lines = new();
        foreach ((string path, string sha256) in sha256ByPath.OrderBy(file => file.Key, StringComparer.Ordinal))
            lines.Append(CultureInfo.InvariantCulture, $"{sha256}  {path}\n");
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(lines.ToString())));
    }

    public static bool IsOne(string text) => text.Length == Length && text.All(char.IsAsciiHexDigitLower);
}
