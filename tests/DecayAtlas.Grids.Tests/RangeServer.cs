using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace DecayAtlas.Grids.Tests;

/// <summary>
/// A host that reads one file by ranges (RFC 9110, section 14) on this machine, and on request lies, breaks off, dawdles or changes.
/// Written on sockets, since a real server would not let its answers be wrong.
/// </summary>
internal sealed class RangeServer : IDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly Func<long, int, byte[]> _read;
    private readonly long _length;
    private readonly X509Certificate2? _certificate;
    private int _busy;

    public RangeServer(byte[] file)
        : this(file.Length, (from, count) => file.AsSpan((int)from, count).ToArray())
    {
    }

    public RangeServer(long length, Func<long, int, byte[]> read, X509Certificate2? certificate = null)
    {
        (_length, _read, _certificate) = (length, read, certificate);
        _listener.Start();
        _ = Task.Run(Accept);
    }

    public string Host => $"127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}";

    public string Address => $"{(_certificate is null ? "http" : "https")}://{Host}/g.tif";

    /// <summary>Head and body of an answer from those that are right and the number of the request, counted from 1.</summary>
    public Func<int, string, byte[], (string Head, byte[] Body)> Answer { get; set; } = (_, head, body) => (head, body);

    public ConcurrentQueue<(long From, int Count)> Asked { get; } = [];

    public ConcurrentQueue<string> Heads { get; } = [];

    public int MostAtOnce { get; private set; }

    public long BytesSent => Asked.Sum(a => (long)a.Count);

    public void Dispose() => _listener.Dispose();

    private async Task Accept()
    {
        try
        {
            while (true)
            {
                TcpClient client = await _listener.AcceptTcpClientAsync();
                _ = Task.Run(() => Serve(client));
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // closed
        }
    }

    private async Task Serve(TcpClient client)
    {
        try
        {
            using (client)
            {
                Stream stream = client.GetStream();
                if (_certificate is not null)
                {
                    SslStream secure = new(stream);
                    await secure.AuthenticateAsServerAsync(_certificate);
                    stream = secure;
                }

                using StreamReader reader = new(stream, Encoding.ASCII, false, 1024, leaveOpen: true);
                StringBuilder head = new();
                while (await reader.ReadLineAsync() is { Length: > 0 } line)
                    head.Append(line).Append('\n');
                (string answer, byte[] body) = AnswerTo(head.ToString());
                await stream.WriteAsync(Encoding.ASCII.GetBytes(answer));
                await stream.WriteAsync(body);
                await stream.FlushAsync();
                Interlocked.Decrement(ref _busy);
            }
        }
        catch (Exception e) when (e is IOException or SocketException or System.Security.Authentication.AuthenticationException)
        {
            // who asked hung up
        }
    }

    private (string Head, byte[] Body) AnswerTo(string head)
    {
        lock (Asked)
            MostAtOnce = Math.Max(MostAtOnce, Interlocked.Increment(ref _busy));
        Heads.Enqueue(head);
        string range = head.Split('\n').Single(l => l.StartsWith("Range: bytes=", StringComparison.Ordinal))["Range: bytes=".Length..];
        long from = long.Parse(range.Split('-')[0], CultureInfo.InvariantCulture);
        long to = Math.Min(long.Parse(range.Split('-')[1], CultureInfo.InvariantCulture), _length - 1);
        int count = (int)(to - from + 1), number;
        lock (Asked)
        {
            Asked.Enqueue((from, count));
            number = Asked.Count;
        }

        return Answer(number, "HTTP/1.1 206 Partial Content\r\nETag: \"one\"\r\nLast-Modified: Mon, 01 Jan 2024 00:00:00 GMT\r\n"
            + $"Content-Range: bytes {from}-{to}/{_length}\r\nContent-Length: {count}\r\nConnection: close\r\n\r\n", _read(from, count));
    }
}

internal static class AnswerHeads
{
    public static string With(this string head, string found, string other) => head.Replace(found, other, StringComparison.Ordinal);
}
