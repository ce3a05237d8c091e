using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace DecayAtlas.Atlas.Releases;

/// <summary>Immutable files named by the SHA-256 of their bytes, shared by all releases that hold the same content.</summary>
public sealed class PartStore
{
    private readonly string _folder;
    private readonly ConcurrentDictionary<string, bool> _unflushed = new(StringComparer.Ordinal);

    /// <summary>Opens the store and sweeps what a killed run left half written.</summary>
    public PartStore(string folder)
    {
        _folder = folder;
        Directory.CreateDirectory(folder);
        foreach (string leftover in Directory.EnumerateFiles(folder, "*" + DurableFile.UnfinishedSuffix))
            File.Delete(leftover);
    }

    /// <summary>The file that holds a part.</summary>
    public string PathOf(string sha256, string extension) => Path.Combine(_folder, sha256 + extension);

    /// <summary>Brings to the disk every part put since the last call; until then a loss of power may undo them.</summary>
    public void Flush()
    {
        FileSystemCall.Flush([.. _unflushed.Keys]);
        _unflushed.Clear();
    }

    /// <summary>Writes a part, or finds that the same bytes are there already. Safe on several threads.</summary>
    /// <param name="releasePath">Where a release shows it; gives the extension.</param>
    /// <remarks>
    /// A part is made in memory: the Parquet library writes asynchronously, and on a file each of its many small writes would wait
    /// for a thread of the pool that the other writers hold.
    /// </remarks>
    public ReleaseFile Put(string releasePath, string? table, int rows, Action<Stream> write)
    {
        using MemoryStream made = new();
        write(made);
        ReadOnlySpan<byte> bytes = made.GetBuffer().AsSpan(0, (int)made.Length);
        string extension = Path.GetExtension(releasePath), sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes));
        ReleaseFile file = new(releasePath, sha256, bytes.Length, table, rows);
        string part = PathOf(sha256, extension);
        if (File.Exists(part) && DurableFile.Sha256(part) == sha256)   // kept: an older release may hold a link to it
            return file;

        DurableFile.WriteLazily(part, stream =>
        {
            made.WriteTo(stream);
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(stream.SafeFileHandle, UnixFileMode.UserRead | UnixFileMode.GroupRead | UnixFileMode.OtherRead);
        }, mark: "." + Path.GetRandomFileName());
        _unflushed[part] = true;
        return file;
    }
}
