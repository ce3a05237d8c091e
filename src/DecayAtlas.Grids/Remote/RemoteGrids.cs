namespace DecayAtlas.Grids.Remote;

/// <summary>
/// The remote files of one run: each is asked once which version it is, and all of the run reads that one. Counts what is fetched.
/// </summary>
public sealed class RemoteGrids(RemoteOptions options, string cacheFolder)
{
    private readonly Dictionary<string, RemoteFile> _files = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();
    private long _bytes, _requests;
    private volatile bool _isOver;

    /// <summary>For who has no configuration: no host is listed.</summary>
    public static RemoteGrids None { get; } = new(new RemoteOptions(), "");

    /// <summary>Bytes asked for so far.</summary>
    public long BytesFetched => Interlocked.Read(ref _bytes);

    public long Requests => Interlocked.Read(ref _requests);

    /// <summary>Whether nothing more comes of it, since a file was changed or too much was fetched.</summary>
    public bool IsOver => _isOver;

    /// <summary>The same with nothing fetched yet, for who goes on when files change.</summary>
    public RemoteGrids Anew() => new(options, cacheFolder);

    /// <summary>Stands for the bytes of the file.</summary>
    /// <exception cref="GridException">It can't be read; in one sentence.</exception>
    public string FingerprintOf(string address) => Open(address).Fingerprint;

    /// <exception cref="GridException">It can't be read; in one sentence.</exception>
    internal RemoteFile Open(string address)
    {
        lock (_gate)
        {
            if (!_files.TryGetValue(address, out RemoteFile? file))
            {
                Uri uri = RemoteAddress.Checked(address, options);
                _files[address] = file = RemoteFile.Open(uri, new RangeRequest(uri, options, Allow, () => _isOver = true), cacheFolder);
            }

            return file;
        }
    }

    private void Allow(long bytes)
    {
        Interlocked.Increment(ref _requests);
        if (Interlocked.Add(ref _bytes, bytes) > options.Megabytes * 1e6)
        {
            _isOver = true;
            throw new GridException($"More than {options.Megabytes} MB of remote grids would be fetched; raise remote.megabytes if that is "
                + "meant, or fetch the files and name them by their paths.");
        }
    }
}
