using Microsoft.Win32.SafeHandles;

namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>Where the bytes of a TIFF's blocks come from; several threads may ask at once.</summary>
internal abstract class BlockBytes : IDisposable
{
    public static BlockBytes Of(string path) => new OnDisk(File.OpenHandle(path));

    public static BlockBytes Of(RemoteFile file) => new FarAway(file);

    /// <summary>Whether each look may be a request over the network.</summary>
    public virtual bool IsFar => false;

    public abstract long Length { get; }

    /// <summary>Reads from there on; fewer than asked for where the file ends.</summary>
    public abstract int Read(Span<byte> bytes, long offset);

    /// <summary>Fetches what will be asked for, where that is cheaper together.</summary>
    /// <param name="places">Offset and length of each block.</param>
    public virtual void Prepare(IEnumerable<(long Offset, int Length)> places)
    {
    }

    public virtual void Dispose() => GC.SuppressFinalize(this);

    private sealed class OnDisk(SafeFileHandle file) : BlockBytes
    {
        public override long Length => RandomAccess.GetLength(file);

        public override int Read(Span<byte> bytes, long offset)
        {
            int got = 0;
            for (int more; got < bytes.Length && (more = RandomAccess.Read(file, bytes[got..], offset + got)) > 0;)
                got += more;
            return got;
        }

        public override void Dispose()
        {
            file.Dispose();
            base.Dispose();
        }
    }

    private sealed class FarAway(RemoteFile file) : BlockBytes
    {
        public override bool IsFar => true;

        public override long Length => file.Length;

        public override int Read(Span<byte> bytes, long offset)
        {
            file.Read(offset, bytes.Length).CopyTo(bytes);
            return bytes.Length;
        }

        public override void Prepare(IEnumerable<(long Offset, int Length)> places) => file.Prepare(places);
    }
}
