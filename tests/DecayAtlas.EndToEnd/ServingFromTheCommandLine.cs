using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>The command serve: started as a process, asked, and ended; and what wrong use of it is told.</summary>
public sealed class ServingFromTheCommandLine : NightWork
{
    [Theory]
    [InlineData("TERM")]
    [InlineData("INT")]
    public async Task It_tells_where_it_listens_answers_and_ends_in_order(string signal)
    {
        Assert.SkipUnless(Command.Has("kill"), "kill (Debian package procps) is not installed");
        Assert.SkipWhen(signal == "INT" && Command.IgnoresInterrupts, "this shell ignores Ctrl-C, and so would the server");
        GivenRelease();
        using Process server = Command.StartDecayAtlas(Work.Folder, "serve", "p.yaml", "--port", "0", "--json");
        try
        {
            JsonElement start = await LineAsync(server);
            Assert.Equal("start", start.GetProperty("event").GetString());
            Assert.True(start.GetProperty("read_only").GetBoolean());
            Assert.False(start.TryGetProperty("warning", out _));
            using HttpClient client = new() { BaseAddress = new Uri(start.GetProperty("listening").GetString()!) };
            using HttpResponseMessage health = await client.GetAsync("/health", TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.OK, health.StatusCode);
            using HttpResponseMessage place = await client.GetAsync("/predict?lon=11.25&lat=48.5", TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.NotFound, place.StatusCode);

            Command.Run(Work.Folder, "kill", "-s", signal, server.Id.ToString(CultureInfo.InvariantCulture));
            JsonElement[] rest = [await LineAsync(server), await LineAsync(server), await LineAsync(server)];
            await server.WaitForExitAsync(TestContext.Current.CancellationToken);
            Assert.Equal(0, server.ExitCode);
            Assert.Equal(["request", "request", "stop"], rest.Select(r => r.GetProperty("event").GetString()));
            Assert.Equal(["event", "bytes", "method", "ms", "path", "status", "time"], rest[1].EnumerateObject().Select(p => p.Name)
                .OrderBy(n => n == "event" ? "" : n, StringComparer.Ordinal));
            Assert.Equal(("/predict", 404), (rest[1].GetProperty("path").GetString(), rest[1].GetProperty("status").GetInt32()));
            Assert.Equal("", await server.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken));
        }
        finally
        {
            server.Kill();
        }
    }

    [Fact]
    public async Task At_an_address_that_others_reach_it_warns_in_one_sentence_and_without_requests_it_is_quiet()
    {
        Assert.SkipUnless(Command.Has("kill"), "kill (Debian package procps) is not installed");
        GivenRelease();
        using Process server =
            Command.StartDecayAtlas(Work.Folder, "serve", "p.yaml", "--port", "0", "--address", "0.0.0.0", "--public-url",
                "https://soil.example/atlas/");
        try
        {
            string first = (await server.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken))!;
            Assert.Contains("is served, read-only, at https://soil.example/atlas/ (listening at http://0.0.0.0:", first,
                StringComparison.Ordinal);
            string port = first.Split("http://0.0.0.0:")[1].Split('/', ')')[0];
            using HttpClient client = new();
            using HttpResponseMessage health =
                await client.GetAsync($"http://127.0.0.1:{port}/atlas/health", TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.OK, health.StatusCode);
            Command.Run(Work.Folder, "kill", "-s", "TERM", server.Id.ToString(CultureInfo.InvariantCulture));
            await server.WaitForExitAsync(TestContext.Current.CancellationToken);
            Assert.Equal(
                "Ended.\n", (await server.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken)).ReplaceLineEndings("\n"));
            string warning =
                Assert.Single((await server.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken)).Split('\n',
                    StringSplitOptions.RemoveEmptyEntries));
            Assert.Contains("put a proxy with TLS before it", warning, StringComparison.Ordinal);
        }
        finally
        {
            server.Kill();
        }
    }

    [Fact]
    public async Task A_line_for_a_request_has_its_path_as_it_was_sent()
    {
        Assert.SkipUnless(Command.Has("kill"), "kill (Debian package procps) is not installed");
        GivenRelease();
        using Process server = Command.StartDecayAtlas(Work.Folder, "serve", "p.yaml", "--port", "0", "--log-requests");
        try
        {
            string first = (await server.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken))!;
            using HttpClient client = new()
            {
                BaseAddress = new Uri("http://127.0.0.1:" + first.Split("http://127.0.0.1:")[1].Split('/')[0])
            };
            using HttpResponseMessage nothing =
                await client.GetAsync("/caf%C3%A9%20a=b%0Ac?lon=11.25", TestContext.Current.CancellationToken);
            Command.Run(Work.Folder, "kill", "-s", "TERM", server.Id.ToString(CultureInfo.InvariantCulture));
            Assert.Contains(" GET /caf%C3%A9%20a=b%0Ac 404 ",
                await server.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        }
        finally
        {
            server.Kill();
        }
    }

    [Fact]
    public void Without_a_release_there_is_nothing_to_serve()
    {
        GivenConfiguration();
        Expect(3, "has no release yet");
    }

    [Theory]
    [InlineData("--address is no IP", "--address", "localhost:80")]
    [InlineData("--port 70000 is no port", "--port", "70000")]
    [InlineData("--public-url soil.example is no address of a site", "--public-url", "soil.example")]
    [InlineData("is no address of a site", "--public-url", "ftp://soil.example/")]
    [InlineData("is no address of a site", "--public-url", "https://soil.example/?a=b")]
    [InlineData("a path that the server itself has", "--public-url", "https://soil.example/api/")]
    [InlineData("'abc', expected a whole number", "--port", "abc")]
    [InlineData("is no origin", "--allow-origin", "https://soil.example/path")]
    // 192.0.2.0/24 is for documentation and no machine's (RFC 5737)
    [InlineData("192.0.2.1 is no address of this machine", "--address", "192.0.2.1")]
    public void A_wrong_option_is_usage(string says, string option, string value)
    {
        GivenRelease();
        Expect(2, says.Replace("--address is", $"--address {value} is", StringComparison.Ordinal), option, value);
    }

    [Fact]
    public void A_port_that_is_taken_is_told()
    {
        GivenRelease();
        TcpListener taken = new(IPAddress.Loopback, 0);
        taken.Start();
        string port = ((IPEndPoint)taken.LocalEndpoint).Port.ToString(CultureInfo.InvariantCulture);
        Expect(3, $"Port {port} of 127.0.0.1 is taken by another program", "--port", port);
        taken.Stop();
    }

    private void GivenRelease()
    {
        GivenConfiguration();
        GivenContribution("one", "group-one");
        ExpectRun(0, "Release 0001-");
    }

    private void Expect(int code, string says, params string[] options)
    {
        (int found, string text) = Run(["serve", .. options]);
        Assert.True(code == found, $"exit code {found}: {text}");
        Assert.Contains(says, text, StringComparison.Ordinal);
        Assert.Single(text.Split('\n', StringSplitOptions.RemoveEmptyEntries));
    }

    private static async Task<JsonElement> LineAsync(Process server)
    {
        string? line = await server.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken);
        return line is null
            ? throw new InvalidOperationException($"the server ended: "
            + $"{await server.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken)}")
            : JsonDocument.Parse(line).RootElement;
    }
}
