using System.IO.Compression;

namespace DecayAtlas.Atlas.Exports;

/// <summary>An archive written forward, whose entries know no time: the same content gives the same bytes.</summary>
internal sealed class TimelessZip(Stream stream) : IDisposable
{
    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    private readonly ZipArchive _archive = new(stream, ZipArchiveMode.Create, leaveOpen: true);

    public void Add(string path, Action<Stream> write, CompressionLevel level = CompressionLevel.Fastest)
    {
        ZipArchiveEntry entry = _archive.CreateEntry(path, level);
        entry.LastWriteTime = NoTime;
        using Stream content = entry.Open();
        write(content);
    }

    public void AddFile(string path, string from, CompressionLevel level = CompressionLevel.Fastest) => Add(path, target =>
    {
        using FileStream source = File.OpenRead(from);
        source.CopyTo(target);
    }, level);

    public void Dispose() => _archive.Dispose();
}
