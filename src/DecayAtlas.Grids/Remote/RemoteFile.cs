namespace DecayAtlas.Grids.Remote;

/// <summary>
/// One version of a remote file. Directories are read by pages, tiles by their exact bytes; both are kept in the cache on disk. Several
/// threads may ask at once.
/// </summary>
internal sealed class RemoteFile
{
    public const int PageBytes = 32 << 10;

    /// <summary>Ranges closer than this are asked for together: a request costs more.</summary>
    private const int GapBytes = 4 << 10;

    private const int MostBytesTogether = 4 << 20;

    private const int MostRequestsAtOnce = 4;

    private const int MostPagesInMemory = 512;

    private readonly RangeRequest _request;
    private readonly FileVersion _version;
    private readonly RangeCache _cache;
    private readonly Dictionary<long, byte[]> _pages = [];
    private readonly Lock _gate = new();

    private RemoteFile(Uri address, RangeRequest request, FileVersion version, RangeCache cache)
    {
        (Address, _request, _version, _cache) = (address, request, version, cache);
        Fingerprint = version.FingerprintOf(address);
    }

    public Uri Address { get; }

    public string Fingerprint { get; }

    public long Length => _version.Length;

    /// <summary>Asks the host which version it has, by the first page.</summary>
    public static RemoteFile Open(Uri address, RangeRequest request, string cacheFolder)
    {
        (byte[] first, FileVersion version) = request.Fetch(0, PageBytes, null);
        RemoteFile file = new(address, request, version, new RangeCache(cacheFolder, address, version));
        file._pages[0] = first;
        return file;
    }

    /// <summary>Fills as much as the file has there.</summary>
    public int ReadByPages(long offset, Span<byte> bytes)
    {
        int done = 0;
        while (done < bytes.Length && offset + done < Length)
        {
            long page = (offset + done) / PageBytes;
            ReadOnlySpan<byte> there = PageOf(page).AsSpan((int)(offset + done - page * PageBytes));
            int count = Math.Min(there.Length, bytes.Length - done);
            there[..count].CopyTo(bytes[done..]);
            done += count;
        }

        return done;
    }

    /// <summary>Exactly those bytes, which must lie in the file.</summary>
    public byte[] Read(long offset, int length)
    {
        if (_cache.Load(offset, length) is { } kept)
            return kept;
        byte[] bytes = _request.Fetch(offset, length, _version).Bytes;
        _cache.Save(offset, bytes);
        return bytes;
    }

    /// <summary>Fetches the pages that hold some places, those that are not here yet.</summary>
    public void PreparePages(IEnumerable<long> offsets)
    {
        long[] pages = [.. offsets.Select(o => o / PageBytes).Distinct().Where(p => !IsInMemory(p))];
        Prepare(pages.Select(page => (page * PageBytes, LengthOfPage(page))));
    }

    /// <summary>Fetches ranges into the cache, those that are not there yet: neighbours together, a few requests at once.</summary>
    public void Prepare(IEnumerable<(long Offset, int Length)> ranges)
    {
        List<List<(long Offset, int Length)>> requests = [];
        long end = 0;
        foreach ((long offset, int length) in ranges.Where(r => r.Length > 0 && !_cache.Has(r.Offset, r.Length)).Distinct()
            .OrderBy(r => r.Offset).ThenBy(r => r.Length))
        {
            if (requests.Count == 0 || offset < end || offset > end + GapBytes
                || offset + length - requests[^1][0].Offset > MostBytesTogether)
            {
                requests.Add([]);
            }

            requests[^1].Add((offset, length));
            end = offset + length;
        }

        try
        {
            Parallel.ForEach(requests, new ParallelOptions { MaxDegreeOfParallelism = MostRequestsAtOnce }, Fetch);
        }
        catch (AggregateException e)
        {
            throw GridException.FirstOf(e) ?? e.InnerExceptions[0];
        }
    }

    private void Fetch(List<(long Offset, int Length)> together)
    {
        long from = together[0].Offset;
        byte[] bytes = _request.Fetch(from, (int)(together[^1].Offset + together[^1].Length - from), _version).Bytes;
        foreach ((long offset, int length) in together)
            _cache.Save(offset, bytes.AsSpan((int)(offset - from), length));
    }

    private int LengthOfPage(long page) => (int)Math.Min(PageBytes, Length - page * PageBytes);

    private bool IsInMemory(long page)
    {
        lock (_gate)
            return _pages.ContainsKey(page);
    }

    private byte[] PageOf(long page)
    {
        lock (_gate)
        {
            if (_pages.TryGetValue(page, out byte[]? there))
                return there;
            if (_pages.Count >= MostPagesInMemory)
                _pages.Clear();
            return _pages[page] = Read(page * PageBytes, LengthOfPage(page));
        }
    }
}
