using System.Diagnostics.CodeAnalysis;

namespace DecayAtlas.Grids.Reading;

/// <summary>The last few decoded blocks; the one that was not asked for longest goes first.</summary>
internal sealed class BlockCache(int capacity)
{
    private readonly Dictionary<(int Column, int Row), LinkedListNode<Entry>> _index = [];
    private readonly LinkedList<Entry> _order = new();
    private int _capacity = capacity;

    /// <summary>Keeps so many blocks from now on, and forgets the oldest beyond.</summary>
    public void Resize(int blocks)
    {
        _capacity = blocks;
        while (_index.Count > blocks)
        {
            _index.Remove(_order.Last!.Value.Key);
            _order.RemoveLast();
        }
    }

    public bool TryGet((int Column, int Row) key, [NotNullWhen(true)] out double[]? values)
    {
        // Runs of requests hit the same block: look there before hashing.
        if (_order.First is { } newest && newest.Value.Key == key)
        {
            values = newest.Value.Values;
            return true;
        }

        if (!_index.TryGetValue(key, out LinkedListNode<Entry>? node))
        {
            values = null;
            return false;
        }

        _order.Remove(node);
        _order.AddFirst(node);
        values = node.Value.Values;
        return true;
    }

    /// <summary>Where the cache is full: forgets the oldest block and hands its array over to be used again.</summary>
    public double[]? TakeRoom()
    {
        if (_index.Count < _capacity || _order.Last is not { } oldest)
            return null;

        _order.RemoveLast();
        _index.Remove(oldest.Value.Key);
        return oldest.Value.Values;
    }

    public void Add((int Column, int Row) key, double[] values) => _index[key] = _order.AddFirst(new Entry(key, values));

    private readonly record struct Entry((int Column, int Row) Key, double[] Values);
}
