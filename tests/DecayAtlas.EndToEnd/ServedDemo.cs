using System.Net;
using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;

namespace DecayAtlas.EndToEnd;

/// <summary>The demo's atlas, served on a free port of this machine, and a client of HTTP 1.1 to ask it with.</summary>
public sealed class ServedDemo : IAsyncLifetime
{
    private readonly WebApplication _server;

    public ServedDemo(DemoRun demo)
    {
        Workspace = demo.Workspace;
        _server = AtlasServer.Build(
            new ServedAtlas(Workspace.PathOf("atlas")), new ServingOptions(IPAddress.Loopback, 0),
            ServedDemo.ModelOf(Workspace.PathOf("pipeline/demo.yaml")));
    }

    public Workspace Workspace { get; }

    public string Address => _server.Urls.Single();

    /// <summary>The root of the interface for features.</summary>
    public string Root => Address + FeaturesApi.Prefix;

    private HttpClient Client { get; } = new() { DefaultRequestVersion = HttpVersion.Version11 };

    public async ValueTask InitializeAsync() => await _server.StartAsync();

    /// <summary>Asks for what lies at an address, or at a path below <see cref="Root"/>.</summary>
    /// <param name="known">Tag of an answer that the reader has.</param>
    public async Task<Answer> AskAsync(string path, EntityTagHeaderValue? known = null)
    {
        using HttpRequestMessage request = new(HttpMethod.Get, path.StartsWith("http", StringComparison.Ordinal) ? path : Root + path);
        if (known is not null)
            request.Headers.IfNoneMatch.Add(known);
        using HttpResponseMessage answer = await Client.SendAsync(request, TestContext.Current.CancellationToken);
        return new Answer((int)answer.StatusCode, answer.Version, answer.Content.Headers.ContentType?.MediaType, answer.Headers.ETag,
            await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    /// <summary>Asks for a document that must be there and be of a media type.</summary>
    public async Task<JsonNode> GetAsync(string path, string mediaType = "application/json")
    {
        Answer answer = await AskAsync(path);
        Assert.True(answer.Status == 200, $"{path}: {answer.Status} {answer.Text}");
        Assert.Equal(mediaType, answer.MediaType);
        return JsonNode.Parse(answer.Text)!;
    }

    /// <summary>Asks for features.</summary>
    public Task<JsonNode> FeaturesAsync(string path) => GetAsync(path, "application/geo+json");

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _server.DisposeAsync();
    }

    /// <summary>The model that the command serve hands out for a configuration.</summary>
    internal static ServedModel ModelOf(string file)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(file);
        return new ServedModel(configuration.Atlas, configuration.Grids, configuration.Conditions);
    }
}

/// <summary>What a server answered.</summary>
public sealed record Answer(int Status, Version HttpVersion, string? MediaType, EntityTagHeaderValue? Tag, string Text);
