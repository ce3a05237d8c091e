using System.Security.Cryptography;
using System.Text.Json;

namespace DecayAtlas.Pipeline.Cache;

/// <summary>
/// Values under keys, one file a key in a folder of <c>atlas/cache</c>: derived, never the only copy of anything, and free to be deleted
/// at any time. A file holds named values behind an index, each with its own SHA-256, so that one is read without the others. What is
/// not whole, or of another format, counts as not there and is made again.
/// </summary>
/// <param name="format">How values become bytes; JSON unless stated.</param>
/// <param name="keptBytes">About so many bytes of what this run saves stay in memory too, each value until it is loaded once.</param>
internal sealed class Cache<T>(AtlasFolder atlas, string kind, CacheFormat<T>? format = null, long keptBytes = 0)
    where T : class
{
    private const string Whole = "";

    private readonly CacheFormat<T> _format = format ?? CacheFormat<T>.Json;
    private readonly KeptInMemory<T> _kept = new(keptBytes);

    private string Folder => Path.Combine(atlas.Cache, kind);

    /// <summary>The value under a key; <see langword="null"/> where there is none to be believed.</summary>
    /// <param name="name">Which of several values.</param>
    /// <exception cref="AtlasException">Access is refused: what can't be read could not be written anew either.</exception>
    public T? Load(string key, string name = Whole)
    {
        if (_kept.Take(key + "/" + name) is { } kept)
            return kept;
        string path = Path.Combine(Folder, key);
        if (!File.Exists(path))
            return null;
        try
        {
            using FileStream file = File.OpenRead(path);
            byte[] start = Read(file, sizeof(int) + SHA256.HashSizeInBytes), index = Read(file, BitConverter.ToInt32(start));
            if (!Matches(index, start.AsSpan(sizeof(int))) || JsonSerializer.Deserialize<Index>(index) is not { } values
                || values.Version != _format.Version || !values.Slices.TryGetValue(name, out Slice? slice))
            {
                return null;
            }

            file.Position += slice.Start;
            byte[] bytes = Read(file, slice.Length);
            return Matches(bytes, slice.Sha256) ? _format.Read(name, bytes) : null;
        }
        catch (Exception e) when (e is IOException or JsonException or NotSupportedException)
        {
            return null;   // cut off, garbled, or on a bad block
        }
        catch (UnauthorizedAccessException e)
        {
            throw new AtlasException($"{path} can't be read since access to it is refused; give the user who runs this the right to "
                + "it, and run again.", e);
        }
    }

    /// <exception cref="AtlasException">The cache can't be written.</exception>
    public void Save(string key, T value) => Save(key, [KeyValuePair.Create(Whole, value)]);

    /// <exception cref="AtlasException">The cache can't be written.</exception>
    public void Save(string key, IEnumerable<KeyValuePair<string, T>> values)
    {
        string path = Path.Combine(Folder, key);
        DurableFile.Guard(path, () => Write(path, key, values));
    }

    private void Write(string path, string key, IEnumerable<KeyValuePair<string, T>> values)
    {
        Dictionary<string, Slice> slices = new(StringComparer.Ordinal);
        using MemoryStream body = new();
        foreach ((string name, T value) in values)
        {
            int start = (int)body.Position;
            _format.Write(body, value);
            int length = (int)body.Position - start;
            slices[name] = new Slice(start, length, SHA256.HashData(body.GetBuffer().AsSpan(start, length)));
            _kept.Offer(key + "/" + name, value, length);
        }

        byte[] index = JsonSerializer.SerializeToUtf8Bytes(new Index(_format.Version, slices));
        DurableFile.WriteLazily(path, stream =>
        {
            stream.Write(BitConverter.GetBytes(index.Length));
            stream.Write(SHA256.HashData(index));
            stream.Write(index);
            body.WriteTo(stream);
        });
    }

    public void KeepOnly(IEnumerable<string> keys)
    {
        HashSet<string> kept = [.. keys];
        foreach (string file in Directory.Exists(Folder) ? Directory.EnumerateFiles(Folder).Where(f => !kept.Contains(Path.GetFileName(f)))
            : [])
        {
            File.Delete(file);
        }
    }

    private static byte[] Read(FileStream file, int length)
    {
        if (length < 0 || length > file.Length - file.Position)
            throw new EndOfStreamException();
        byte[] bytes = new byte[length];
        file.ReadExactly(bytes);
        return bytes;
    }

    private static bool Matches(byte[] bytes, ReadOnlySpan<byte> sha256) => SHA256.HashData(bytes).AsSpan().SequenceEqual(sha256);

    private sealed record Index(string Version, Dictionary<string, Slice> Slices);

    /// <param name="Start">Where its bytes begin, after the index.</param>
    private sealed record Slice(int Start, int Length, byte[] Sha256);
}
