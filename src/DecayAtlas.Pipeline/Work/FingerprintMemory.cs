using System.Text.Json;
using System.Text.Json.Serialization;

namespace DecayAtlas.Pipeline.Work;

/// <summary>
/// Fingerprints of large files, kept by path, so that a night on which nothing changed does not read gigabytes of grids. A file is
/// taken for the one that was read where its length, its time of change, its <see cref="FileState"/> of the file system and a
/// <see cref="ContentProbe"/> are what they were. A file changed within the last two seconds is not remembered: its time of change
/// may stay the same.
/// </summary>
/// <remarks>
/// What remains: where the file system tells no state (not Linux), a file that was replaced by one of the same length, its time of
/// change set back, that differs only outside the probed blocks, is not seen.
/// </remarks>
internal sealed class FingerprintMemory
{
    private readonly string _path;
    private readonly SortedDictionary<string, Seen> _seen;
    private bool _isChanged;

    private sealed record Seen(long Length, long ChangedTicks, string State, string Probe, string Fingerprint);

    public FingerprintMemory(AtlasFolder atlas)
    {
        _path = Path.Combine(atlas.Cache, "fingerprints.json");
        _seen = CacheFile.Load<SortedDictionary<string, Seen>>(_path) ?? new(StringComparer.Ordinal);
    }

    /// <summary>The fingerprint of a grid file, a pattern of tiles, or a shapefile with its siblings; each file is remembered by itself.</summary>
    /// <exception cref="GridException">The file can't be read.</exception>
    public string OfFile(string path) => GridFingerprint.Of(path, OfOneFile);

    private string OfOneFile(string path)
    {
        var file = new FileInfo(path);
        string? state = null, probe = null;
        if (file.Exists)
        {
            (state, probe) = (FileState.Of(path), ContentProbe.Of(path));
            if (_seen.TryGetValue(path, out Seen? seen) && seen.Length == file.Length && seen.ChangedTicks == file.LastWriteTimeUtc.Ticks && seen.State == state && seen.Probe == probe)
                return seen.Fingerprint;
        }

        string fingerprint = GridFingerprint.OfOneFile(path);
        if (DateTime.UtcNow - file.LastWriteTimeUtc > TimeSpan.FromSeconds(2))
        {
            _seen[path] = new Seen(file.Length, file.LastWriteTimeUtc.Ticks, state!, probe!, fingerprint);
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

    /// <summary>Reads a cache file; <see langword="null"/> where it is missing or garbled.</summary>
    /// <exception cref="AtlasException">Access to it is refused: what can't be read could not be written anew either.</exception>
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
        catch (UnauthorizedAccessException e)
        {
            throw new AtlasException($"{path} can't be read since access to it is refused; give the user who runs this the right to it, and run again.", e);
        }
    }

    /// <exception cref="AtlasException">The cache can't be written.</exception>
    public static void Save<T>(string path, T value) =>
        DurableFile.Guard(path, () => DurableFile.WriteLazily(path, stream => JsonSerializer.Serialize(stream, value, Strict)));
}
