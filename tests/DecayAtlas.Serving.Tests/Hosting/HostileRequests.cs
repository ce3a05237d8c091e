using System.Text.RegularExpressions;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>Requests that no browser sends, over bare sockets: nothing outside the listed files is handed out, and nothing
/// breaks.</summary>
public sealed partial class HostileRequests(ExampleServer example) : IClassFixture<ExampleServer>
{
    // a word that stands in a file beside the release, which nobody may read
    private const string Secret = "nobody-may-read-this";

    public static TheoryData<string> Escapes =>
    [
        "/releases/RELEASE/../../secret.txt",
        "/releases/RELEASE/../../../secret.txt",
        "/releases/RELEASE/pages/../../../secret.txt",
        "/releases/RELEASE/%2e%2e/%2e%2e/secret.txt",
        "/releases/RELEASE/%2E%2E/%2e./secret.txt",
        "/releases/RELEASE/..%2f..%2fsecret.txt",
        "/releases/RELEASE/%2e%2e%2f%2e%2e%2fsecret.txt",
        "/releases/RELEASE/..%5c..%5csecret.txt",
        "/releases/RELEASE/..\\..\\secret.txt",
        "/releases/RELEASE/%252e%252e/%252e%252e/secret.txt",
        "/releases/RELEASE/%c0%ae%c0%ae/%c0%ae%c0%ae/secret.txt",
        "/releases/RELEASE/%c0%af..%c0%afsecret.txt",
        "/releases/RELEASE/%e0%80%ae%e0%80%ae/secret.txt",
        "/releases/RELEASE/\u002e\u002e;/secret.txt",
        "/releases/RELEASE//etc/passwd",
        "/releases/RELEASE///etc/passwd",
        "/releases/RELEASE/%2fetc%2fpasswd",
        "/releases/RELEASE/C:/Windows/win.ini",
        "/releases/RELEASE/C:%5cWindows%5cwin.ini",
        "/releases/RELEASE/file:///etc/passwd",
        "/releases/RELEASE/sites.geojson%00.html",
        "/releases/RELEASE/sites.geojson%00",
        "/releases/RELEASE/sites.geojson.",
        "/releases/RELEASE/sites.geojson%20",
        "/releases/RELEASE/sites.geojson::$DATA",
        "/releases/RELEASE/sites.geojson:stream",
        "/releases/RELEASE/SITES.GEOJSON",
        "/releases/RELEASE/sites.geojson/",
        "/releases/RELEASE/unlisted.txt",
        "/releases/RELEASE/link.txt",
        "/releases/RELEASE/linked/secret.txt",
        "/releases/RELEASE/.hidden",
        "/releases/RELEASE/pages/../unlisted.txt",
        "/releases/RELEASE/con",
        "/releases/../secret.txt",
        "/releases/../intake/",
        "/releases/../cache/pages.txt",
        "/releases/../runs/latest-summary.txt",
        "/releases/../quarantine/",
        "/releases/.making-RELEASE/secret.txt",
        "/releases/.making-RELEASE-pages/index.html",
        "/releases/0002-/secret.txt",
        "/releases/0002-..%2f..",
        "/releases/0002-../secret.txt",
        "/releases/9999-aaaaaaaaaaaa/secret.txt",
        "/releases//RELEASE/sites.geojson",
        "//releases/RELEASE/secret.txt",
        "/intake/", "/quarantine/", "/cache/", "/runs/", "/parts/", "/models/", "/lock",
        "/secret.txt", "/../secret.txt", "/.git/config", "/releases/%", "/releases/%zz/%f",
        "/releases/RELEASE/%2e%2e/%2e%2e/%2e%2e/%2e%2e/%2e%2e/%2e%2e/etc/passwd",
        "/predict/../secret.txt",
        "/api/../secret.txt",
    ];

    [Theory]
    [MemberData(nameof(Escapes))]
    public async Task No_way_of_writing_a_path_leads_out_or_breaks_the_server(string target)
    {
        GivenSecrets();
        string answer =
            await example.Server
                .SendRawAsync($"GET {target.Replace("RELEASE", example.Atlas.Release.ToString(), StringComparison.Ordinal)} "
                + "HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        Assert.Matches("^HTTP/1.1 (400|404) ", answer);
        Assert.DoesNotContain(Secret, answer, StringComparison.Ordinal);
        Assert.DoesNotContain("root:", answer, StringComparison.Ordinal);
        Assert.DoesNotContain(example.Atlas.Folder, answer, StringComparison.Ordinal);
    }

    [Theory]
    // RFC 9112, section 3.2.2: the absolute form must be taken; of another host it is none of ours
    [InlineData("GET http://localhost:PORT/health HTTP/1.1\r\nHost: localhost:PORT", 200)]
    [InlineData("GET http://evil.example/health HTTP/1.1\r\nHost: evil.example", 400)]
    [InlineData("GET http://evil.example/health HTTP/1.1\r\nHost: localhost", 400)]
    [InlineData("GET file:///etc/passwd HTTP/1.1\r\nHost: localhost", 400)]
    // section 3.2: no Host, two of them, one that is none
    [InlineData("GET /health HTTP/1.1", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost\r\nHost: evil.example", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: local host", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost:", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: evil.example", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost.evil.example", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: 192.0.2.7", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: LOCALHOST:1", 200)]
    [InlineData("GET /health HTTP/1.1\r\nHost: 127.0.0.1", 200)]
    [InlineData("GET /health HTTP/1.1\r\nHost: [::1]:80", 200)]
    // RFC 9110, section 9.1 and 15.5.6: other methods are known and not allowed
    [InlineData("POST /health HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0", 405)]
    [InlineData("PUT /releases/x HTTP/1.1\r\nHost: localhost\r\nContent-Length: 4", 405)]
    [InlineData("DELETE /api HTTP/1.1\r\nHost: localhost", 405)]
    [InlineData("TRACE / HTTP/1.1\r\nHost: localhost", 405)]
    [InlineData("PROPFIND / HTTP/1.1\r\nHost: localhost", 405)]
    [InlineData("CONNECT evil.example:443 HTTP/1.1\r\nHost: evil.example:443", 400)]
    [InlineData("OPTIONS * HTTP/1.1\r\nHost: localhost", 204)]
    [InlineData("OPTIONS /predict HTTP/1.1\r\nHost: localhost", 204)]
    // RFC 9112, section 6.3: lengths that contradict or are none
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5\r\nContent-Length: 6", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost\r\nContent-Length: -1", 400)]
    // what is no HTTP
    [InlineData("GET /health HTTP/9.9\r\nHost: localhost", 505)]
    [InlineData("GET /health\r\nHost: localhost", 400)]
    [InlineData("\0\0\0\0 / HTTP/1.1\r\nHost: localhost", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost\r\nBad Header: x", 400)]
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost\r\nX: a\0b", 400)]
    // queries
    [InlineData("GET /predict?lon=%00&lat=%ff HTTP/1.1\r\nHost: localhost", 404)]
    [InlineData("GET /health?%&=&&x=%zz HTTP/1.1\r\nHost: localhost", 200)]
    // ranges that are meant to cost
    [InlineData("GET RELEASE/known/known=10000.bin HTTP/1.1\r\nHost: localhost\r\nRange: bytes=99999999999999999999-", 200)]
    [InlineData("GET RELEASE/known/known=10000.bin HTTP/1.1\r\nHost: localhost\r\nRange: bytes=0-1\r\nRange: bytes=2-3", 200)]
    public async Task A_request_out_of_the_ordinary_gets_its_status(string head, int status)
    {
        string port = example.Server.Port.ToString(System.Globalization.CultureInfo.InvariantCulture);
        string answer =
            await example.Server
                .SendRawAsync(head.Replace("PORT", port, StringComparison.Ordinal)
                    .Replace("RELEASE", example.Release, StringComparison.Ordinal) + "\r\nConnection: close\r\n\r\n");
        Assert.StartsWith($"HTTP/1.1 {status} ", answer, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Content-Length: 5", "hello")]
    [InlineData("Transfer-Encoding: chunked", "5\r\nhello\r\n0\r\n\r\n")]
    public async Task A_body_is_not_taken_and_its_connection_is_closed(string header, string body)
    {
        string answer = await example.Server.SendRawAsync($"GET /health HTTP/1.1\r\nHost: localhost\r\n{header}\r\n\r\n{body}");
        Assert.StartsWith("HTTP/1.1 413 ", answer, StringComparison.Ordinal);
        Assert.Contains("\r\nConnection: close\r\n", answer, StringComparison.Ordinal);
    }

    [Theory]
    // RFC 3986, section 5.2.4: whoever sends a request resolves the dots, so that they come only from those who try something
    [InlineData("/../..")]
    [InlineData("/releases/current/x/../sites.geojson")]
    [InlineData("/releases/current/./sites.geojson")]
    [InlineData("/releases/current/x/%2e%2E/sites.geojson")]
    [InlineData("/releases/current/x/%252e%252e/sites.geojson")]
    [InlineData("/releases/current/x%2f..%2fsites.geojson")]
    [InlineData("/releases/current/x/..%5csites.geojson")]
    [InlineData("/api/collections/sites/items/..")]
    public async Task Dots_that_climb_are_refused_even_where_they_stay_inside(string target)
    {
        string answer = await example.Server.SendRawAsync($"GET {target} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        Assert.StartsWith("HTTP/1.1 400 ", answer, StringComparison.Ordinal);
        Assert.Contains("The path holds a step upwards or a backslash", answer, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("GET /LONG HTTP/1.1\r\nHost: localhost\r\n\r\n", 414)]   // RFC 9110, section 15.5.15
    [InlineData("GET /health?LONG HTTP/1.1\r\nHost: localhost\r\n\r\n", 414)]
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost\r\nX: LONG\r\n\r\n", 431)]   // RFC 6585, section 5
    [InlineData("GET /health HTTP/1.1\r\nHost: localhost\r\nRange: bytes=MANY\r\n\r\n", 431)]
    public async Task A_request_that_is_too_large_is_cut_short(string request, int status)
    {
        string answer =
            await example.Server
                .SendRawAsync(request.Replace("LONG", new string('a', 40_000), StringComparison.Ordinal)
                    .Replace("MANY", string.Concat(Enumerable.Repeat("0-,", 9_000)), StringComparison.Ordinal));
        Assert.StartsWith($"HTTP/1.1 {status} ", answer, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Too_many_headers_are_refused()
    {
        string many = string.Concat(Enumerable.Range(0, 100).Select(i => $"X{i}: y\r\n"));
        Assert.StartsWith("HTTP/1.1 431 ", await example.Server.SendRawAsync($"GET /health HTTP/1.1\r\nHost: localhost\r\n{many}\r\n"),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/health")]
    [InlineData("/nothing")]
    [InlineData("/releases/")]
    [InlineData("RELEASE/sites.geojson")]
    [InlineData("RELEASE/pages/index.html")]
    [InlineData("RELEASE/nothing")]
    [InlineData("/predict")]
    [InlineData("/api")]
    public async Task Every_answer_tells_browsers_to_be_careful_and_nothing_of_the_software(string path)
    {
        using HttpResponseMessage answer =
            await example.Server.GetAsync(path.Replace("RELEASE", example.Release, StringComparison.Ordinal));
        string headers = answer.Headers.ToString();
        foreach (string expected in new[] { "Content-Security-Policy: default-src 'none'", "X-Content-Type-Options: nosniff",
            "Referrer-Policy: no-referrer", "Permissions-Policy: ", "Cross-Origin-Resource-Policy: same-origin" })
        {
            Assert.Contains(expected, headers, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("Access-Control", headers, StringComparison.Ordinal);
        Assert.Empty(answer.Headers.Server);
    }

    [Theory]
    [InlineData("GET /nothing HTTP/1.1\r\nHost: localhost")]
    [InlineData("GET /nothing HTTP/1.1\r\nHost: evil.example")]
    [InlineData("POST / HTTP/1.1\r\nHost: localhost")]
    [InlineData("GET / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 3")]
    [InlineData("GET /predict?lon=1&lat=2 HTTP/1.1\r\nHost: localhost")]
    public async Task A_refusal_is_one_sentence_in_a_problem_document(string head)
    {
        // RFC 9457: media type, and members title, status, detail
        string answer = await example.Server.SendRawAsync(head + "\r\nConnection: close\r\n\r\n");
        Assert.Contains("\r\nContent-Type: application/problem+json\r\n", answer, StringComparison.Ordinal);
        System.Text.Json.JsonElement problem =
            System.Text.Json.JsonDocument.Parse(answer[answer.IndexOf('{', StringComparison.Ordinal)..]).RootElement;
        Assert.StartsWith($"HTTP/1.1 {problem.GetProperty("status").GetInt32()} {problem.GetProperty("title").GetString()}", answer,
            StringComparison.Ordinal);
        Assert.Matches(Sentence(), problem.GetProperty("detail").GetString()!);
    }

    private void GivenSecrets()
    {
        string releases = example.Atlas.Atlas.Releases, release = example.Atlas.Atlas.FolderOf(example.Atlas.Release);
        if (File.Exists(Path.Combine(release, "linked/secret.txt")))
            return;
        foreach (string path in new[] { "secret.txt", "../secret.txt",
            "../../secret.txt", $".making-{example.Atlas.Release}/secret.txt", $".making-{example.Atlas.Release}-pages/index.html", $"{example.Atlas.Release}/unlisted.txt", $"{example.Atlas.Release}/.hidden" })
        {
            Directory.CreateDirectory(Path.GetDirectoryName(Path.Combine(releases, path))!);
            File.WriteAllText(Path.Combine(releases, path), Secret);
        }

        // somebody put links into the release, and even into its list
        File.AppendAllText(Path.Combine(release, ReleaseWriter.ChecksumsName),
            string.Concat(
                new[] { "link.txt", "linked/secret.txt", ".hidden", "../secret.txt",
                    "/etc/passwd" }.Select(p => $"{new string('0', 64)}  {p}\n")));
        File.CreateSymbolicLink(Path.Combine(release, "link.txt"), Path.Combine(releases, "secret.txt"));
        Directory.CreateSymbolicLink(Path.Combine(release, "linked"), releases);
    }

    [GeneratedRegex(@"^[A-Z/][^\n]*\.$")]
    private static partial Regex Sentence();
}
