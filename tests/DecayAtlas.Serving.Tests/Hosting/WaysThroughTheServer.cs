using System.Net;
using System.Text.Json;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>Where a reader comes to, and under which names and origins.</summary>
public sealed class WaysThroughTheServer(ExampleServer example) : IClassFixture<ExampleServer>
{
    [Theory]
    [InlineData("/", "RELEASE/pages/index.html")]
    [InlineData("/releases", "/releases/")]
    [InlineData("/releases/current/pages/map.html", "RELEASE/pages/map.html")]
    [InlineData("/releases/current", "RELEASE/")]
    [InlineData("RELEASE/pages/", "RELEASE/pages/index.html")]
    [InlineData("RELEASE/pages/de/", "RELEASE/pages/de/index.html")]
    [InlineData("RELEASE/pages", "RELEASE/pages/index.html")]
    [InlineData("RELEASE/", "RELEASE/datapackage.json")]
    [InlineData("/releases/current/known/known=10000.bin", "RELEASE/known/known%3D10000.bin")]
    public async Task What_is_current_is_reached_by_one_step(string path, string leadsTo)
    {
        using HttpResponseMessage answer = await example.Server.GetAsync(Named(path));
        Assert.Equal(HttpStatusCode.TemporaryRedirect, answer.StatusCode);
        Assert.Equal(Named(leadsTo), answer.Headers.Location!.ToString());
        Assert.Equal("no-cache", answer.Headers.CacheControl!.ToString());
    }

    [Fact]
    public async Task A_person_who_enters_a_release_comes_to_its_pages()
    {
        using HttpResponseMessage answer =
            await example.Server.GetAsync(example.Release, ("Accept", "text/html,application/xhtml+xml,*/*;q=0.8"));
        Assert.Equal(example.Release + "/pages/index.html", answer.Headers.Location!.ToString());
        Assert.Contains("Accept", answer.Headers.Vary);
    }

    [Theory]
    // registered with IANA, except netCDF, which is common practice
    [InlineData("sites.geojson", "application/geo+json")]
    [InlineData("datapackage.json", "application/json")]
    [InlineData("checksums.sha256", "text/plain; charset=utf-8")]
    [InlineData("CITATION.cff", "text/plain; charset=utf-8")]
    [InlineData("lots/lots-0.parquet", "application/vnd.apache.parquet")]
    [InlineData("pages/index.html", "text/html; charset=utf-8")]
    [InlineData("pages/assets/map.js", "text/javascript; charset=utf-8")]
    [InlineData("pages/assets/pages.css", "text/css; charset=utf-8")]
    [InlineData("pages/assets/mark.svg", "image/svg+xml")]
    public async Task Files_say_what_they_are(string path, string mediaType)
    {
        string file = path.StartsWith("lots", StringComparison.Ordinal)
            ? "lots/" + Path.GetFileName(Directory.GetFiles(Path.Combine(example.Atlas.Atlas.Current, "lots"))[0]) : path;
        using HttpResponseMessage answer = await example.Server.GetAsync($"{example.Release}/{file}");
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(mediaType, answer.Content.Headers.ContentType!.ToString());
    }

    [Fact]
    public async Task Every_file_that_a_release_and_its_pages_list_comes_with_the_bytes_of_its_checksum()
    {
        int files = 0;
        foreach (string folder in new[] { "", "pages/" })
        {
            foreach (string line in File.ReadLines(Path.Combine(example.Atlas.Atlas.Current, folder + "checksums.sha256")))
            {
                using HttpResponseMessage answer =
                    await example.Server
                        .GetAsync($"{example.Release}/{folder}{string.Join('/', line[66..].Split('/').Select(Uri.EscapeDataString))}");
                Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
                Assert.Equal(line[..64],
                    Convert.ToHexStringLower(
                        System.Security.Cryptography.SHA256
                            .HashData(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken))));
                files++;
            }
        }

        Assert.True(files > 40, $"only {files} files");
    }

    [Fact]
    public async Task The_releases_are_listed_for_programs_with_addresses_that_work()
    {
        using HttpResponseMessage answer = await example.Server.GetAsync("/releases/");
        JsonElement release =
            Assert.Single(JsonDocument.Parse(await TextAsync(answer)).RootElement.GetProperty("releases").EnumerateArray());
        Assert.Equal(example.Atlas.Release.Id, release.GetProperty("id").GetString());
        Assert.True(release.GetProperty("is_current").GetBoolean());
        foreach (string way in new[] { "descriptor", "checksums", "pages" })
        {
            using HttpResponseMessage there = await example.Server.GetAsync(release.GetProperty(way).GetString()!);
            Assert.Equal(HttpStatusCode.OK, there.StatusCode);
        }
    }

    [Fact]
    public async Task The_releases_are_listed_for_people_on_a_page()
    {
        using HttpResponseMessage answer = await example.Server.GetAsync("/releases/", ("Accept", "text/html,application/xhtml+xml"));
        Assert.Equal("text/html", answer.Content.Headers.ContentType!.MediaType);
        string page = await TextAsync(answer);
        Assert.Contains($"{example.Atlas.Release} <span class=\"badge accepted\">current</span>", page, StringComparison.Ordinal);
        // as many as the tables of sites under schemas/v1 have rows, and the day on which its descriptor was written
        Assert.Matches(@"<time datetime=""\d{4}-\d\d-\d\d"">", page);
        Assert.Contains("2 contributions, 4 sites", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_guide_says_of_every_parameter_what_it_means()
    {
        using HttpResponseMessage guide = await example.Server.GetAsync("/api/guide");
        string page = await TextAsync(guide);
        Assert.Contains("<code>featureId</code>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<td></td>", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Health_names_release_and_software_and_that_nothing_predicts()
    {
        using HttpResponseMessage answer = await example.Server.GetAsync("/health");
        JsonElement health = JsonDocument.Parse(await TextAsync(answer)).RootElement;
        Assert.Equal("ok", health.GetProperty("status").GetString());
        Assert.Equal(example.Atlas.Release.Id, health.GetProperty("release_id").GetString());
        Assert.Equal(JsonValueKind.Null, health.GetProperty("model_id").ValueKind);
        Assert.Matches(@"^DecayAtlas \d+\.\d+\.\d+$", health.GetProperty("software").GetString());
    }

    [Theory]
    // RFC 9110, section 13.1.2: weak comparison, lists, and a star for whatever there is
    [InlineData("W/\"TAG\"", HttpStatusCode.NotModified)]
    [InlineData("\"TAG\"", HttpStatusCode.NotModified)]
    [InlineData("\"other\", W/\"TAG\"", HttpStatusCode.NotModified)]
    [InlineData("*", HttpStatusCode.NotModified)]
    [InlineData("\"other\"", HttpStatusCode.OK)]
    [InlineData("no tag", HttpStatusCode.OK)]
    public async Task A_reader_who_has_the_features_of_this_release_is_told_that_they_still_hold(string known, HttpStatusCode status)
    {
        const string Items = "/api/collections/sites/items";
        using HttpResponseMessage first = await example.Server.GetAsync(Items);
        string tag = first.Headers.ETag!.Tag.Trim('"');
        using HttpResponseMessage second =
            await example.Server.GetAsync(Items, ("If-None-Match", known.Replace("TAG", tag, StringComparison.Ordinal)));
        Assert.Equal(status, second.StatusCode);
    }

    [Theory]
    [InlineData("/soil/atlas", "/soil/atlas")]   // a proxy that hands the path through
    [InlineData("/soil/atlas", "")]              // one that takes the prefix off
    [InlineData("/b%C3%B6den%20x", "/b%C3%B6den%20x")]
    public async Task Under_a_public_address_everything_works_and_links_lead_there(string prefix, string handedThrough)
    {
        await using RunningServer server =
            await RunningServer.StartAsync(example.Atlas, o => o with { PublicUrl = new Uri($"https://soil.example{prefix}/") });
        using HttpResponseMessage front = await server.GetAsync(handedThrough + "/", ("Host", "soil.example"));
        Assert.Equal(prefix + example.Release + "/pages/index.html", front.Headers.Location!.OriginalString);
        using HttpResponseMessage page =
            await server.GetAsync(handedThrough + example.Release + "/pages/index.html", ("Host", "soil.example"));
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        using HttpResponseMessage list = await server.GetAsync(handedThrough + "/releases/");
        Assert.Contains($"\"https://soil.example{prefix}{example.Release}/datapackage.json\"", await TextAsync(list),
            StringComparison.Ordinal);
        using HttpResponseMessage api = await server.GetAsync(handedThrough + "/api");
        Assert.True(api.IsSuccessStatusCode);
    }

    [Theory]
    [InlineData(null, null, "same-origin")]
    [InlineData("https://maps.example", "https://maps.example", "cross-origin")]
    [InlineData("*", "*", "cross-origin")]
    public async Task Pages_of_others_may_read_the_answers_only_where_that_was_said(string? allowed, string? says, string resourcePolicy)
    {
        await using RunningServer server = await RunningServer.StartAsync(example.Atlas, o => o with { AllowedOrigin = allowed });
        using HttpResponseMessage answer = await server.GetAsync("/health", ("Origin", "https://maps.example"));
        Assert.Equal(
            says, answer.Headers.TryGetValues("Access-Control-Allow-Origin", out IEnumerable<string>? origin) ? origin.Single() : null);
        Assert.Equal(resourcePolicy, answer.Headers.GetValues("Cross-Origin-Resource-Policy").Single());
        using HttpResponseMessage preflight =
            await server.SendAsync(HttpMethod.Options,
                "/releases/", ("Origin", "https://maps.example"), ("Access-Control-Request-Method", "GET"),
                    ("Access-Control-Request-Headers", "range"));
        Assert.Equal(HttpStatusCode.NoContent, preflight.StatusCode);
        Assert.Equal(
            allowed is not null, preflight.Headers.TryGetValues("Access-Control-Allow-Headers", out IEnumerable<string>? headers)
                && headers.Single().Contains("Range", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_diary_has_every_request_without_what_it_asked()
    {
        WrittenLog log = new();
        await using (RunningServer server = await RunningServer.StartAsync(example.Atlas, log: log))
        {
            using HttpResponseMessage whole = await server.GetAsync($"{example.Release}/{ExampleAtlas.KnownFile}");
            using HttpResponseMessage part = await server.GetAsync($"{example.Release}/{ExampleAtlas.KnownFile}", ("Range", "bytes=0-499"));
            using HttpResponseMessage head = await server.SendAsync(HttpMethod.Head, $"{example.Release}/{ExampleAtlas.KnownFile}");
            using HttpResponseMessage place = await server.GetAsync("/predict?lon=11.5&lat=48.1");
        }

        string file = $"{example.Release}/{ExampleAtlas.KnownFile}";
        Assert.Equal(
            [("GET", file, 200, 10000L), ("GET", file, 206, 500L), ("HEAD", file, 200, 0L),
                ("GET", "/predict", 404, log.Requests.Last().Bytes)],
            log.Requests.Select(r => (r.Method, r.Path, r.Status, r.Bytes)));
    }

    private string Named(string path) => path.Replace("RELEASE", example.Release, StringComparison.Ordinal);

    private static Task<string> TextAsync(HttpResponseMessage answer) =>
        answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
}
