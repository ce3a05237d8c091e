using System.Collections.Concurrent;

namespace DecayAtlas.Pipeline.Work;

/// <summary>
/// Contributions that this run has just read and accepted, on their way to be computed, so that they are not parsed a second time.
/// Bounded by an estimate of their memory: what does not fit is read again from the intake, to the same rows. Safe on several threads.
/// </summary>
/// <param name="mostBytes">Most memory that may wait here.</param>
public sealed class HandOver(long mostBytes)
{
    /// <summary>A bag with its texts, as measured with a million of them.</summary>
    private const long BytesPerBag = 400;

    private readonly ConcurrentDictionary<string, Contribution> _waiting = new(StringComparer.Ordinal);
    private long _bytes;

    /// <summary>256 MiB: with the rest of a run well below a gibibyte.</summary>
    public static long DefaultBytes => 256L << 20;

    /// <summary>Keeps a contribution if there is room for it.</summary>
    public void Offer(Contribution contribution)
    {
        long own = BytesOf(contribution);
        if (Interlocked.Add(ref _bytes, own) <= mostBytes && _waiting.TryAdd(contribution.Header.ContentHash, contribution))
            return;
        Interlocked.Add(ref _bytes, -own);
    }

    /// <summary>Hands a contribution over, once; <see langword="null"/> where it has to be read.</summary>
    public Contribution? Take(ContributionHeader header)
    {
        if (!_waiting.TryRemove(header.ContentHash, out Contribution? contribution))
            return null;
        Interlocked.Add(ref _bytes, -BytesOf(contribution));
        return contribution.Header == header ? contribution : null;
    }

    private static long BytesOf(Contribution contribution) =>
        BytesPerBag * (contribution.Bags.Count + contribution.Sites.Count + contribution.Lots.Count + contribution.Samples.Count);
}
