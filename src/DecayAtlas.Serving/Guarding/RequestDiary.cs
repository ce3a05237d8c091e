using System.Diagnostics;

namespace DecayAtlas.Serving.Guarding;

/// <summary>Writes down what each request came to, without what it asked in its query.</summary>
internal sealed class RequestDiary(IServingLog log)
{
    public async Task RunAsync(HttpContext http, RequestDelegate next)
    {
        (DateTimeOffset time, long began) = (DateTimeOffset.UtcNow, Stopwatch.GetTimestamp());
        (string method, string path) = (http.Request.Method, (http.Request.PathBase + http.Request.Path).ToUriComponent());
        await using CountingStream counting = new(http.Response.Body);
        http.Response.Body = counting;
        try
        {
            await next(http);
            await http.Response.CompleteAsync();
        }
        finally
        {
            long bytes = HttpMethods.IsHead(method) ? 0 : counting.Written;
            double milliseconds = Stopwatch.GetElapsedTime(began).TotalMilliseconds;
            log.Answered(new AnsweredRequest(time, method, path, http.Response.StatusCode, bytes, milliseconds));
        }
    }

    private sealed class CountingStream(Stream inner) : Stream
    {
        public long Written { get; private set; }

        public override bool CanRead => false;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override void Flush() => inner.Flush();

        public override Task FlushAsync(CancellationToken cancellationToken) => inner.FlushAsync(cancellationToken);

        public override void Write(byte[] buffer, int offset, int count)
        {
            inner.Write(buffer, offset, count);
            Written += count;
        }

        public override async ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default)
        {
            await inner.WriteAsync(buffer, cancellationToken);
            Written += buffer.Length;
        }

        public override Task WriteAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
            WriteAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();
    }
}
