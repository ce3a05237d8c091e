using System.Text.Json;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>
/// One writer an atlas at a time. The lock is one of the operating system on the file <c>lock</c>: it goes with its process,
/// so that a killed run leaves no stale lock behind. <c>lock-holder.json</c> says who took it last.
/// </summary>
public sealed class AtlasLock : IDisposable
{
    private readonly FileStream _file;

    private AtlasLock(FileStream file) => _file = file;

    private sealed record Holder(int ProcessId, string Machine, DateTimeOffset Since);

    /// <exception cref="AtlasBusyException">Another run holds the lock.</exception>
    /// <exception cref="AtlasException">The atlas can't be written.</exception>
    public static AtlasLock Take(AtlasFolder atlas)
    {
        string path = LockOf(atlas);
        try
        {
            Directory.CreateDirectory(atlas.Root);
            FileStream file = new(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            // in a file of its own, since the locked one can't be read by those who want to know
            File.WriteAllText(HolderOf(atlas),
                JsonSerializer.Serialize(new Holder(Environment.ProcessId, Environment.MachineName, DateTimeOffset.UtcNow),
                    JsonText.Options));
            return new AtlasLock(file);
        }
        catch (IOException e) when (IsHeldByAnother(e))
        {
            throw Busy(atlas);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StorageException.NotWritten(path, e);
        }
    }

    /// <summary>
    /// Keeps writers away from an atlas that is only read. Writes nothing; <see langword="null"/> where the atlas can't be locked, as
    /// on a read-only disk.
    /// </summary>
    /// <exception cref="AtlasBusyException">A run holds the lock.</exception>
    public static AtlasLock? TakeToRead(AtlasFolder atlas)
    {
        try
        {
            return new AtlasLock(new FileStream(LockOf(atlas), FileMode.Open, FileAccess.Read, FileShare.None));
        }
        catch (IOException e) when (IsHeldByAnother(e))
        {
            throw Busy(atlas);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    public void Dispose() => _file.Dispose();

    // .NET reports a lock held by another process as a sharing violation: EWOULDBLOCK on Unix, ERROR_SHARING_VIOLATION on Windows
    private static bool IsHeldByAnother(IOException e) => (e.HResult & 0xFFFF) is 11 or 35 or 32;

    private static string LockOf(AtlasFolder atlas) => Path.Combine(atlas.Root, "lock");

    private static string HolderOf(AtlasFolder atlas) => Path.Combine(atlas.Root, "lock-holder.json");

    private static AtlasBusyException Busy(AtlasFolder atlas)
    {
        string by = "";
        try
        {
            if (JsonSerializer.Deserialize<Holder>(File.ReadAllText(HolderOf(atlas)), JsonText.Options) is { } holder)
                by = Invariant($" (process {holder.ProcessId} on {holder.Machine}, since {holder.Since:yyyy-MM-dd HH:mm} UTC)");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            // it has just begun, or just ended
        }

        return new AtlasBusyException($"Another run works on {atlas.Root}{by}; wait until it ends, then run again.");
    }
}

/// <summary>Another run holds the atlas; nothing is wrong, and nothing was done.</summary>
public sealed class AtlasBusyException(string message) : Exception(message);
