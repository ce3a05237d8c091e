using System.Collections.Concurrent;

namespace DecayAtlas.Pipeline.Cache;

/// <summary>
/// Values on their way to be used once more in the same run, so that they need not be read again. Bounded: what finds no room is read.
/// Safe on several threads.
/// </summary>
internal sealed class KeptInMemory<T>(long mostBytes)
    where T : class
{
    private readonly ConcurrentDictionary<string, (T Value, long Bytes)> _waiting = new(StringComparer.Ordinal);
    private long _bytes;

    /// <param name="bytes">About how much memory it takes.</param>
    public void Offer(string key, T value, long bytes)
    {
        if (Interlocked.Add(ref _bytes, bytes) > mostBytes || !_waiting.TryAdd(key, (value, bytes)))
            Interlocked.Add(ref _bytes, -bytes);
    }

    /// <summary>Hands a value over, once; <see langword="null"/> where it has to be read.</summary>
    public T? Take(string key)
    {
        if (!_waiting.TryRemove(key, out (T Value, long Bytes) kept))
            return null;
        Interlocked.Add(ref _bytes, -kept.Bytes);
        return kept.Value;
    }
}
