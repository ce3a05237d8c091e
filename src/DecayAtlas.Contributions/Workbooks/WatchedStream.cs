namespace DecayAtlas.Contributions.Workbooks;

/// <summary>A stream that can only be read, and tells of every piece that is, since nothing else in the library that reads it can be
/// asked.</summary>
/// <param name="watch">Takes the bytes that were read, and says how many of them to hand on.</param>
internal sealed class WatchedStream(Stream inner, Func<int, int> watch) : Stream
{
    public override bool CanRead => true;

    public override bool CanSeek => inner.CanSeek;

    public override bool CanWrite => false;

    public override long Length => inner.Length;

    public override long Position { get => inner.Position; set => inner.Position = value; }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer) => watch(inner.Read(buffer));

    public override long Seek(long offset, SeekOrigin origin) => inner.Seek(offset, origin);

    public override void Flush() => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            inner.Dispose();
        base.Dispose(disposing);
    }
}
