using DecayAtlas.Atlas.Releases;

namespace DecayAtlas.Atlas.Storage;

/// <summary>Immutable files named by the SHA-256 of their bytes, shared by all releases that hold the same content.</summary>
public sealed class PartStore
{
    private readonly string _folder;

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

    /// <summary>Writes a part, or finds that the same bytes are there already. Safe on several threads.</summary>
    /// <param name="releasePath">Where a release shows it; gives the extension.</param>
    public ReleaseFile Put(string releasePath, string? table, int rows, Action<Stream> write)
    {
        string extension = Path.GetExtension(releasePath);
        string fresh = Path.Combine(_folder, Path.GetRandomFileName() + DurableFile.UnfinishedSuffix);
        try
        {
            using (var stream = new FileStream(fresh, FileMode.CreateNew, FileAccess.ReadWrite))
            {
                write(stream);
                stream.Flush(flushToDisk: true);
            }

            string sha256 = DurableFile.Sha256(fresh);
            var file = new ReleaseFile(releasePath, sha256, new FileInfo(fresh).Length, table, rows);
            string part = PathOf(sha256, extension);
            if (!File.Exists(part))   // an older release may hold a link to it
            {
                if (!OperatingSystem.IsWindows())
                    File.SetUnixFileMode(fresh, UnixFileMode.UserRead | UnixFileMode.GroupRead | UnixFileMode.OtherRead);
                File.Move(fresh, part, overwrite: true);
            }

            return file;
        }
        finally
        {
            File.Delete(fresh);
        }
    }
}
