namespace DecayAtlas.Contributions.Workbooks;

/// <summary>Bytes that may still be read, over all parts of an archive together, and the time for it.</summary>
internal sealed class ByteBudget(long most, ReadingTime time)
{
    private long _spent;

    public bool IsOver => _spent > most;

    public void Spend(int bytes)
    {
        time.Ask();
        _spent += bytes;
    }
}

/// <summary>Ends the stream where the limit is passed, whatever the archive says about its length.</summary>
internal sealed class BudgetedStream(Stream inner, ByteBudget budget) : Stream
{
    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        int read = inner.Read(buffer);
        budget.Spend(read);
        return budget.IsOver ? 0 : read;
    }

    public override void Flush() => throw new NotSupportedException();

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            inner.Dispose();
        base.Dispose(disposing);
    }
}
