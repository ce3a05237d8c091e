using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Grids.Remote;

/// <summary>Which bytes a host calls by an address: what it says of them, and how many they are.</summary>
/// <param name="ETag">A strong one, in its quotation marks; null where the host names none.</param>
internal sealed record FileVersion(string? ETag, DateTimeOffset? ChangedAt, long Length)
{
    /// <summary>Stands for the bytes, as far as their host can be believed. Without a strong ETag for the time of their change.</summary>
    public string FingerprintOf(Uri address) =>
        (ETag is null ? "last-modified:" : "etag:") + Digest($"{address}\n{ETag ?? Time}\n{Length}");

    public string Time => ChangedAt?.ToString("R", CultureInfo.InvariantCulture) ?? "";

    public static string Digest(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
