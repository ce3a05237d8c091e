using System.Globalization;
using System.IO.Compression;
using System.Text.Json.Nodes;
using nietras.SeparatedValues;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>Features as CSV are those of GeoJSON, page by page, read by another reader (Sep).</summary>
public sealed class FeaturesAsCsv(ExampleServer example) : IClassFixture<ExampleServer>
{
    [Theory]
    [InlineData("sites")]
    [InlineData("burials")]
    public async Task Pages_that_the_header_Link_leads_through_hold_every_feature_with_the_values_of_GeoJSON(string collection)
    {
        string items = $"/api/collections/{collection}/items";
        JsonObject[] features = [.. JsonNode.Parse(await TextAsync(items + "?limit=10000"))!["features"]!.AsArray()
            .Select(f => f!.AsObject())];
        List<Dictionary<string, string>> rows = [];
        for (string? next = items + "?limit=2&f=csv"; next is not null;)
        {
            using HttpResponseMessage answer = await example.Server.GetAsync(next);
            Assert.Equal("text/csv", answer.Content.Headers.ContentType!.MediaType);
            using SepReader reader = Sep.Reader(o => o with { Sep = new Sep(','), Unescape = true })
                .FromText(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
            foreach (SepReader.Row row in reader)
            {
                Dictionary<string, string> cells = [];
                foreach (string name in reader.Header.ColNames)
                    cells[name] = row[name].ToString();
                rows.Add(cells);
            }
            next = answer.Headers.TryGetValues("Link", out IEnumerable<string>? links)
                && links.FirstOrDefault(l => l.EndsWith("rel=\"next\"", StringComparison.Ordinal)) is { } link
                ? new Uri(link[1..link.IndexOf('>', StringComparison.Ordinal)]).PathAndQuery : null;
        }

        Assert.Equal(features.Select(f => (string)f["id"]!), rows.Select(r => r["feature_id"]));
        foreach ((JsonObject feature, Dictionary<string, string> row) in features.Zip(rows))
        {
            Assert.Equal(Plain(feature["geometry"]?["coordinates"]![0]), row["longitude"]);
            Assert.Equal(Plain(feature["geometry"]?["coordinates"]![1]), row["latitude"]);
            foreach ((string name, JsonNode? value) in feature["properties"]!.AsObject())
                Assert.Equal(Plain(value), row[name]);
        }
    }

    [Fact]
    public async Task Another_format_is_refused_in_one_sentence()
    {
        using HttpResponseMessage answer = await example.Server.GetAsync("/api/collections/sites/items?f=shapefile");
        Assert.Equal(400, (int)answer.StatusCode);
        Assert.Contains("geojson or csv", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("geojson")]
    [InlineData("csv")]
    public async Task Features_come_packed_where_a_reader_takes_that(string format)
    {
        string items = "/api/collections/burials/items?limit=100&f=" + format;
        using HttpResponseMessage answer = await example.Server.GetAsync(items, ("Accept-Encoding", "gzip"));
        Assert.Equal(["gzip"], answer.Content.Headers.ContentEncoding);
        await using GZipStream unpacked = new(await answer.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken),
            CompressionMode.Decompress);
        using StreamReader reader = new(unpacked);
        Assert.Equal(await TextAsync(items), await reader.ReadToEndAsync(TestContext.Current.CancellationToken));
    }

    private async Task<string> TextAsync(string path)
    {
        using HttpResponseMessage answer = await example.Server.GetAsync(path);
        return await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
    }

    private static string Plain(JsonNode? value) => value?.GetValueKind() switch
    {
        null => "",
        System.Text.Json.JsonValueKind.Number => value.GetValue<double>().ToString(CultureInfo.InvariantCulture),
        System.Text.Json.JsonValueKind.String => (string)value!,
        _ => value.ToJsonString(),
    };
}
