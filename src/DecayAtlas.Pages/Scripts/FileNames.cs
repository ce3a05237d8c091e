using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Pages.Scripts;

/// <summary>File names from ids that others chose.</summary>
internal static class FileNames
{
    /// <summary>The id itself where it is plain on every file system, else a digest of it.</summary>
    public static string Of(string id) => IsPlain(id) ? id
        : "id-" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(id)))[..16];

    public static string OfContribution(string id) => $"contributions/{Of(id)}.html";

    private static bool IsPlain(string id) =>
        id.Length is > 0 and <= 100 && id is not ("index" or "con" or "nul" or "aux" or "prn") && char.IsAsciiLetterOrDigit(id[0])
        && !id.EndsWith('.')
        && !id.StartsWith("id-", StringComparison.Ordinal) && !id.StartsWith("waiting-", StringComparison.Ordinal)
        && id.All(c => c is >= 'a' and <= 'z' or >= '0' and <= '9' or '-' or '_' or '.');
}
