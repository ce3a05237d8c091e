namespace DecayAtlas.Pipeline.Cache;

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
internal sealed class FileFingerprints
{
    private const string Key = "files";

    private readonly Cache<SortedDictionary<string, Seen>> _cache;
    private readonly SortedDictionary<string, Seen> _seen;
    private bool _isChanged;

    private sealed record Seen(long Length, long ChangedTicks, string State, string Probe, string Fingerprint);

    public FileFingerprints(AtlasFolder atlas)
    {
        _cache = new(atlas, "fingerprints");
        _seen = _cache.Load(Key) ?? new(StringComparer.Ordinal);
    }

    /// <summary>The fingerprint of a grid file, a pattern of tiles, or a shapefile with its siblings; each file is remembered by
    /// itself.</summary>
    /// <exception cref="GridException">The file can't be read.</exception>
    public string OfFile(string path) => GridFingerprint.Of(path, OfOneFile);

    private string OfOneFile(string path)
    {
        FileInfo file = new(path);
        string? state = null, probe = null;
        if (file.Exists)
        {
            (state, probe) = (FileState.Of(path), ContentProbe.Of(path));
            if (_seen.TryGetValue(path, out Seen? seen)
                && seen == new Seen(file.Length, file.LastWriteTimeUtc.Ticks, state, probe, seen.Fingerprint))
            {
                return seen.Fingerprint;
            }
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
            _cache.Save(Key, _seen);
    }
}
