using System.Net;
using System.Net.Sockets;
using System.Text;
using Microsoft.AspNetCore.Builder;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>A real server on a free port of this machine, and the readers of the tests: a client that follows no redirects, and bare
/// sockets.</summary>
internal sealed class RunningServer : IAsyncDisposable
{
    private readonly WebApplication _app;

    private RunningServer(WebApplication app)
    {
        _app = app;
        Client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = new Uri(app.Urls.First() + "/") };
    }

    public HttpClient Client { get; }

    public int Port => Client.BaseAddress!.Port;

    public static async Task<RunningServer> StartAsync(ExampleAtlas atlas, Func<ServingOptions, ServingOptions>? with = null,
        IServingLog? log = null, ServedModel? model = null)
    {
        ServingOptions options = new(IPAddress.Loopback, 0) { FollowEvery = TimeSpan.FromMilliseconds(50) };
        WebApplication app = AtlasServer.Build(new ServedAtlas(atlas.Atlas.Root), with?.Invoke(options) ?? options, model, log);
        await app.StartAsync(TestContext.Current.CancellationToken);
        return new RunningServer(app);
    }

    public Task<HttpResponseMessage> GetAsync(string path, params (string Name, string Value)[] headers) =>
        SendAsync(HttpMethod.Get, path, headers);

    public Task<HttpResponseMessage> SendAsync(HttpMethod method, string path, params (string Name, string Value)[] headers)
    {
        HttpRequestMessage request = new(method, path);
        foreach ((string name, string value) in headers)
            request.Headers.TryAddWithoutValidation(name, value);
        return Client.SendAsync(request, TestContext.Current.CancellationToken);
    }

    /// <summary>Sends bytes as they are and gives all that comes back.</summary>
    public async Task<string> SendRawAsync(string request)
    {
        using Socket socket = new(SocketType.Stream, ProtocolType.Tcp);
        await socket.ConnectAsync(IPAddress.Loopback, Port, TestContext.Current.CancellationToken);
        await using NetworkStream stream = new(socket);
        await stream.WriteAsync(Encoding.Latin1.GetBytes(request), TestContext.Current.CancellationToken);
        using StreamReader reader = new(stream, Encoding.Latin1);
        return await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>Asks until an answer is as it is waited for; the test's own limit ends what never comes.</summary>
    public async Task<string> WaitForAsync(string path, Func<HttpResponseMessage, string, bool> isThere)
    {
        while (true)
        {
            using HttpResponseMessage answer = await GetAsync(path);
            string text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
            if (isThere(answer, text))
                return text;
            await Task.Delay(20, TestContext.Current.CancellationToken);
        }
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _app.DisposeAsync();
    }
}

/// <summary>A server over the example for all tests that only read.</summary>
public sealed class ExampleServer : IAsyncLifetime
{
    internal ExampleAtlas Atlas { get; } = new();

    internal RunningServer Server { get; private set; } = null!;

    internal string Release => "/releases/" + Atlas.Release;

    public async ValueTask InitializeAsync() => Server = await RunningServer.StartAsync(Atlas);

    public async ValueTask DisposeAsync()
    {
        await Server.DisposeAsync();
        Atlas.Dispose();
    }
}
