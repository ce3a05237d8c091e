using System.Net;

namespace DecayAtlas.EndToEnd;

/// <summary>A web host that knows nothing of pages: it sends the bytes of a file and says HTML, script, style or bytes.</summary>
public sealed class PlainHost : IAsyncLifetime
{
    private readonly HttpListener _listener = new();
    private Task? _serving;

    public string Address { get; private set; } = "";

    /// <summary>What it hands out.</summary>
    public string Folder { get; set; } = "";

    public ValueTask InitializeAsync()
    {
        // a listener takes no port 0; one that was free a moment ago is free
        using (System.Net.Sockets.TcpListener probe = new(IPAddress.Loopback, 0))
        {
            probe.Start();
            Address = $"http://127.0.0.1:{((IPEndPoint)probe.LocalEndpoint).Port}/";
        }

        _listener.Prefixes.Add(Address);
        _listener.Start();
        _serving = ServeAsync();
        return ValueTask.CompletedTask;
    }

    public async ValueTask DisposeAsync()
    {
        _listener.Close();
        if (_serving is not null)
            await _serving;
    }

    private async Task ServeAsync()
    {
        while (true)
        {
            HttpListenerContext asked;
            try
            {
                asked = await _listener.GetContextAsync();
            }
            catch (Exception e) when (e is HttpListenerException or ObjectDisposedException)
            {
                return;
            }

            string path = Path.Combine(Folder, Uri.UnescapeDataString(asked.Request.Url!.AbsolutePath).TrimStart('/'));
            asked.Response.StatusCode = File.Exists(path) ? 200 : 404;
            asked.Response.ContentType = Path.GetExtension(path) switch
            {
                ".html" => "text/html",
                ".js" => "text/javascript",
                ".css" => "text/css",
                ".svg" => "image/svg+xml",
                _ => "application/octet-stream",
            };
            using (asked.Response)
            {
                if (File.Exists(path))
                    await asked.Response.OutputStream.WriteAsync(await File.ReadAllBytesAsync(path));
            }
        }
    }
}
