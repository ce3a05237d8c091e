namespace DecayAtlas.Contributions.Packages;

/// <summary>
/// The files of one contribution as they were received. Each is read from the disk once: its bytes stay in memory until it is decided where
/// the contribution goes, so that what was hashed is what is parsed and what is kept. Where they are too many, the rest is read as often as
/// it is needed.
/// </summary>
internal sealed class ReceivedFiles
{
    /// <summary>Bytes that are held a contribution; as rows in memory they take some four times as much.</summary>
    public const long MostBytes = 64L << 20;

    private const int BufferBytes = 1 << 17;

    private readonly Dictionary<string, (long Bytes, DateTime Written)> _listed = [];
    private readonly Dictionary<string, byte[]> _held = [];
    private long _left = MostBytes;

    public bool AreHeld => _listed.All(file => file.Value.Bytes == 0 || _held.ContainsKey(file.Key));

    /// <summary>Whether none was written to or taken away since it was listed.</summary>
    public bool AreUnchanged => _listed.All(file => StateOf(new FileInfo(file.Key)) == file.Value);

    public PackageFile Add(string name, FileInfo file)
    {
        _listed[file.FullName] = StateOf(file);
        return new PackageFile(name, () => Open(file.FullName), file.Length, null);
    }

    public Stream Open(string path)
    {
        if (_held.TryGetValue(path, out byte[]? held))
            return new MemoryStream(held, writable: false);
        // a file without length is not opened at all: it has no bytes, and if it is a pipe or a device, opening it could wait for ever
        if (new FileInfo(path).Length == 0)
            return Stream.Null;
        FileStream stream = File.OpenRead(path);
        if (!_listed.ContainsKey(path) || stream.Length > _left)
            return stream;
        using (stream)
        {
            byte[] bytes = new byte[stream.Length];
            int read = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
            _held[path] = read == bytes.Length ? bytes : bytes[..read];
        }
        _left -= _held[path].Length;
        return new MemoryStream(_held[path], writable: false);
    }

    public void Copy(string path, string target) => DurableFile.Create(target, copy =>
    {
        using Stream from = Open(path);
        from.CopyTo(copy, BufferBytes);
    });

    /// <summary>Copies every plain file below a folder; links are left out.</summary>
    public void CopyFolder(string source, string target)
    {
        Directory.CreateDirectory(target);
        foreach (FileSystemInfo item in new DirectoryInfo(source).EnumerateFileSystemInfos().Where(item => item.LinkTarget is null))
        {
            if (item is DirectoryInfo)
                CopyFolder(item.FullName, Path.Combine(target, item.Name));
            else
                Copy(item.FullName, Path.Combine(target, item.Name));
        }
    }

    private static (long, DateTime) StateOf(FileInfo file) => file.Exists ? (file.Length, file.LastWriteTimeUtc) : default;
}
