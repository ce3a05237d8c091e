using System.Net;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>Files in pieces, by the examples and rules of RFC 9110 (HTTP Semantics), section 14 on ranges and section 13 on
/// conditions.</summary>
public sealed class RangesOfFiles(ExampleServer example) : IClassFixture<ExampleServer>
{
    private string Known => $"{example.Release}/{ExampleAtlas.KnownFile}";

    [Theory]
    // section 14.1.2, for a representation of 10000 bytes
    [InlineData("bytes=0-499", 0, 499)]
    [InlineData("bytes=500-999", 500, 999)]
    [InlineData("bytes=-500", 9500, 9999)]
    [InlineData("bytes=9500-", 9500, 9999)]
    // the same section: a last position beyond the end means the end, and so does a suffix longer than the whole
    [InlineData("bytes=9000-20000", 9000, 9999)]
    [InlineData("bytes=-20000", 0, 9999)]
    [InlineData("bytes=0-0", 0, 0)]
    public async Task A_range_is_answered_with_just_those_bytes(string range, int first, int last)
    {
        using HttpResponseMessage answer = await example.Server.GetAsync(Known, ("Range", range));
        Assert.Equal(HttpStatusCode.PartialContent, answer.StatusCode);
        Assert.Equal($"bytes {first}-{last}/10000", answer.Content.Headers.ContentRange!.ToString());
        Assert.Equal(last - first + 1, answer.Content.Headers.ContentLength);
        Assert.Equal(ExampleAtlas.Known[first..(last + 1)], await BytesAsync(answer));
    }

    [Theory]
    // section 15.5.17: none of the ranges overlaps the file
    [InlineData("bytes=10000-")]
    [InlineData("bytes=10000-10100")]
    [InlineData("bytes=-0")]
    public async Task A_range_outside_the_file_is_refused_with_its_length(string range)
    {
        using HttpResponseMessage answer = await example.Server.GetAsync(Known, ("Range", range));
        Assert.Equal(HttpStatusCode.RequestedRangeNotSatisfiable, answer.StatusCode);
        Assert.Equal("bytes */10000", answer.Content.Headers.ContentRange!.ToString());
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType!.MediaType);
    }

    [Theory]
    // section 14.2: a server may ignore the field, and must where it does not know the unit or can't read it
    [InlineData("bytes=0-0,-1")]
    [InlineData("rows=0-499")]
    [InlineData("bytes=500-400")]
    [InlineData("bytes=a-b")]
    [InlineData("bytes=")]
    public async Task What_is_no_single_range_of_bytes_gets_the_whole_file(string range)
    {
        using HttpResponseMessage answer = await example.Server.GetAsync(Known, ("Range", range));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(ExampleAtlas.Known, await BytesAsync(answer));
    }

    [Theory]
    // section 13.1.5: a range only of the bytes one has a part of already; a weak tag and a date that the answer does not carry never match
    [InlineData("same", HttpStatusCode.PartialContent)]
    [InlineData("\"another\"", HttpStatusCode.OK)]
    [InlineData("W/same", HttpStatusCode.OK)]
    [InlineData("Sat, 29 Oct 2044 19:43:31 GMT", HttpStatusCode.OK)]
    public async Task If_Range_gives_a_part_only_of_the_very_same_bytes(string condition, HttpStatusCode expected)
    {
        string tag = await TagAsync();
        using HttpResponseMessage answer =
            await example.Server
                .GetAsync(Known, ("Range", "bytes=0-499"), ("If-Range", condition.Replace("same", tag, StringComparison.Ordinal)));
        Assert.Equal(expected, answer.StatusCode);
        Assert.Equal(expected == HttpStatusCode.OK ? 10000 : 500, (await BytesAsync(answer)).Length);
    }

    [Theory]
    // sections 13.1.1 and 13.1.2
    [InlineData("If-None-Match", "same", HttpStatusCode.NotModified)]
    [InlineData("If-None-Match", "\"x\", W/same", HttpStatusCode.NotModified)]
    [InlineData("If-None-Match", "*", HttpStatusCode.NotModified)]
    [InlineData("If-None-Match", "\"x\"", HttpStatusCode.OK)]
    [InlineData("If-Match", "same", HttpStatusCode.OK)]
    [InlineData("If-Match", "\"x\"", HttpStatusCode.PreconditionFailed)]
    public async Task Conditions_are_kept(string header, string value, HttpStatusCode expected)
    {
        using HttpResponseMessage answer =
            await example.Server.GetAsync(Known, (header, value.Replace("same", await TagAsync(), StringComparison.Ordinal)));
        Assert.Equal(expected, answer.StatusCode);
    }

    [Theory]
    [InlineData("pages/index.html")]
    [InlineData("pages/assets/map.js")]
    public async Task A_page_that_a_browser_has_is_not_sent_again(string page)
    {
        using HttpResponseMessage first = await example.Server.GetAsync($"{example.Release}/{page}");
        Assert.Equal("no-cache", first.Headers.CacheControl!.ToString());
        using HttpResponseMessage again =
            await example.Server.GetAsync($"{example.Release}/{page}", ("If-None-Match", first.Headers.ETag!.ToString()));
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
    }

    [Fact]
    public async Task The_tag_is_the_checksum_of_the_release_and_the_file_may_be_kept_for_good()
    {
        using HttpResponseMessage answer = await example.Server.GetAsync(Known);
        Assert.Equal($"\"{Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(ExampleAtlas.Known))}\"",
            answer.Headers.ETag!.ToString());
        Assert.Equal("bytes", answer.Headers.AcceptRanges.ToString());
        Assert.Equal("public, max-age=31536000, immutable", string.Join(", ", answer.Headers.GetValues("Cache-Control")));
    }

    [Theory]
    [InlineData("known/known=10000.bin", "bytes=0-499", "Content-Length: 10000")]   // section 14.2: Range is for GET
    [InlineData("pages/index.html", "", "Content-Type: text/html; charset=utf-8")]
    public async Task HEAD_says_what_GET_would_without_a_body(string path, string range, string says)
    {
        string answer =
            await example.Server
                .SendRawAsync($"HEAD {example.Release}/{path} HTTP/1.1\r\nHost: localhost\r\nConnection: "
                + $"close\r\n{(range.Length == 0 ? "" : $"Range: {range}\r\n")}\r\n");
        Assert.StartsWith("HTTP/1.1 200 OK\r\n", answer, StringComparison.Ordinal);
        Assert.Contains(says, answer, StringComparison.Ordinal);
        Assert.EndsWith("\r\n\r\n", answer, StringComparison.Ordinal);
        Assert.Equal(answer.Length, answer.IndexOf("\r\n\r\n", StringComparison.Ordinal) + 4);
    }

    [Theory]
    [InlineData("br")]
    [InlineData("gzip")]
    public async Task Pages_come_packed_and_are_the_same_unpacked_but_data_never_do(string packing)
    {
        using HttpResponseMessage page =
            await example.Server.GetAsync($"{example.Release}/pages/assets/map.js", ("Accept-Encoding", packing), ("Range", "bytes=0-9"));
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        Assert.Equal([packing], page.Content.Headers.ContentEncoding);
        Assert.True(page.Headers.ETag!.IsWeak);
        await using Stream body = await page.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken);
        await using Stream unpacked = packing == "br"
            ? new System.IO.Compression.BrotliStream(body, System.IO.Compression.CompressionMode.Decompress)
            : new System.IO.Compression.GZipStream(body, System.IO.Compression.CompressionMode.Decompress);
        using StreamReader reader = new(unpacked);
        Assert.Equal(File.ReadAllText(Path.Combine(example.Atlas.Atlas.Current, "pages/assets/map.js")),
            await reader.ReadToEndAsync(TestContext.Current.CancellationToken));

        using HttpResponseMessage data = await example.Server.GetAsync($"{example.Release}/sites.geojson", ("Accept-Encoding", packing));
        Assert.Empty(data.Content.Headers.ContentEncoding);
        Assert.Equal(new FileInfo(Path.Combine(example.Atlas.Atlas.Current, "sites.geojson")).Length, data.Content.Headers.ContentLength);
    }

    private async Task<string> TagAsync()
    {
        using HttpResponseMessage answer = await example.Server.GetAsync(Known);
        return answer.Headers.ETag!.ToString();
    }

    private static Task<byte[]> BytesAsync(HttpResponseMessage answer) =>
        answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
}
