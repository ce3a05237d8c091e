using System.Security.Cryptography;

namespace DecayAtlas.Grids.Remote;

/// <summary>
/// Parts of one version of a remote file on this disk, a file each, with their SHA-256 before them. Free to be deleted at any time; what is
/// not whole counts as not there. What was kept of other versions goes when this one is opened.
/// </summary>
internal sealed class RangeCache
{
    private readonly string _folder;

    public RangeCache(string cache, Uri address, FileVersion version)
    {
        string file = FileVersion.Digest(address.AbsoluteUri)[..24];
        _folder = Path.Combine(cache, $"{file}-{FileVersion.Digest($"{version.ETag ?? version.Time}\n{version.Length}")[..24]}");
        try
        {
            // for its owner alone: which tiles were fetched tells where sites lie
            if (OperatingSystem.IsWindows())
                Directory.CreateDirectory(_folder);
            else
                Directory.CreateDirectory(_folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
            foreach (string other in Directory.EnumerateDirectories(cache, file + "-*").Where(f => f != _folder))
                Directory.Delete(other, recursive: true);
            foreach (string leftover in Directory.EnumerateFiles(_folder, "*" + DurableFile.UnfinishedSuffix)
                .Where(f => DateTime.UtcNow - File.GetLastWriteTimeUtc(f) > TimeSpan.FromHours(1)))
            {
                File.Delete(leftover);
            }
        }
        catch (Exception e) when (StorageFault.Is(e))
        {
            throw StorageException.NotWritten(_folder, e);
        }
    }

    public bool Has(long from, int length) => File.Exists(PathOf(from, length));

    /// <summary>The bytes; <see langword="null"/> where they are not there to be believed.</summary>
    public byte[]? Load(long from, int length)
    {
        try
        {
            byte[] kept = File.ReadAllBytes(PathOf(from, length));
            return kept.Length == length + SHA256.HashSizeInBytes
                && SHA256.HashData(kept.AsSpan(SHA256.HashSizeInBytes)).AsSpan().SequenceEqual(kept.AsSpan(0, SHA256.HashSizeInBytes))
                ? kept[SHA256.HashSizeInBytes..] : null;
        }
        catch (IOException)
        {
            return null; // not there, or on a bad block
        }
    }

    /// <exception cref="StorageException">It can't be written.</exception>
    public void Save(long from, ReadOnlySpan<byte> bytes)
    {
        byte[] kept = [.. SHA256.HashData(bytes), .. bytes];
        string path = PathOf(from, bytes.Length), mark = $".{Environment.ProcessId}-{Environment.CurrentManagedThreadId}";
        DurableFile.Guard(path, () => DurableFile.WriteLazily(path, stream => stream.Write(kept), mark));
    }

    private string PathOf(long from, int length) => Path.Combine(_folder, $"{from:x12}-{length:x8}");
}
