using System.Text.Json;
using System.Text.Json.Serialization;
using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Grids;

namespace DecayAtlas.Pipeline.Work;

/// <summary>
/// Fingerprints of large files, kept by path, length and time of change, so that a night on which nothing changed does not read
/// gigabytes of grids. A file changed within the last two seconds is not remembered: its time of change may stay the same.
/// </summary>
internal sealed class FingerprintMemory
{
    private readonly string _path;
    private readonly SortedDictionary<string, Seen> _seen;
    private bool _isChanged;

    private sealed record Seen(long Length, long ChangedTicks, string Fingerprint);

    public FingerprintMemory(AtlasFolder atlas)
    {
        _path = Path.Combine(atlas.Cache, "fingerprints.json");
        _seen = CacheFile.Load<SortedDictionary<string, Seen>>(_path) ?? new(StringComparer.Ordinal);
    }

    /// <exception cref="GridException">The file can't be read.</exception>
    public string OfFile(string path)
    {
        var file = new FileInfo(path);
        if (file.Exists && _seen.TryGetValue(path, out Seen? seen) && seen.Length == file.Length && seen.ChangedTicks == file.LastWriteTimeUtc.Ticks)
            return seen.Fingerprint;

        string fingerprint = GridFingerprint.OfFile(path);
        if (DateTime.UtcNow - file.LastWriteTimeUtc > TimeSpan.FromSeconds(2))
        {
            _seen[path] = new Seen(file.Length, file.LastWriteTimeUtc.Ticks, fingerprint);
            _isChanged = true;
        }

        return fingerprint;
    }

    public void Save()
    {
        if (_isChanged)
            CacheFile.Save(_path, _seen);
    }
}

/// <summary>Files under the cache folder: derived, never the only copy of anything, and free to be deleted at any time.</summary>
internal static class CacheFile
{
    // a file that parses and lacks something is as little to be believed as one that does not parse
    private static readonly JsonSerializerOptions Strict = new(JsonText.Options)
    {
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.Never,
    };

    /// <summary>Reads a cache file; <see langword="null"/> where it is missing or not readable.</summary>
    public static T? Load<T>(string path) where T : class
    {
        try
        {
            return File.Exists(path) ? JsonSerializer.Deserialize<T>(File.ReadAllBytes(path), Strict) : null;
        }
        catch (Exception e) when (e is JsonException or IOException or NotSupportedException)
        {
            return null;
        }
    }

    /// <exception cref="AtlasException">The cache can't be written.</exception>
    public static void Save<T>(string path, T value) =>
        DurableFile.Guard(path, () => DurableFile.WriteLazily(path, stream => JsonSerializer.Serialize(stream, value, Strict)));
}
