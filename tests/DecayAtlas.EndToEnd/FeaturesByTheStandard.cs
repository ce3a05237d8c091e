using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.OpenApi;
using NetTopologySuite.Features;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.EndToEnd;

/// <summary>
/// The abstract test suite of OGC API - Features, part 1: core (OGC 17-069r4, annex A), test by test, over the demo's atlas. Each is
/// named as there; numbers are held against what DuckDB finds in the released Parquet.
/// </summary>
public sealed class FeaturesByTheStandard(ServedDemo served) : IClassFixture<ServedDemo>
{
    private const string Class = "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/";

    private const string Crs84 = "http://www.opengis.net/def/crs/OGC/1.3/CRS84";

    private const string Sites = "read_parquet('atlas/current/sites/**/*.parquet')";

    private const string Burials = $"(SELECT b.*, s.decimal_longitude, s.decimal_latitude, s.ecosystem FROM "
        + $"read_parquet('atlas/current/burials/**/*.parquet') b JOIN {Sites} s USING (site_key))";

    // the time of a site reaches from its first burial to its last retrieval
    private const string SitesInTime = $"(SELECT s.*, t.first, t.last FROM {Sites} s LEFT JOIN (SELECT site_key, min(least(buried_on, "
        + "retrieved_on)) AS first, max(greatest(buried_on, retrieved_on)) AS last FROM "
        + "read_parquet('atlas/current/burials/**/*.parquet') GROUP BY site_key) t USING (site_key))";

    private const string BurialsInTime = $"(SELECT *, least(buried_on, retrieved_on) AS first, greatest(buried_on, retrieved_on) AS "
        + $"last FROM {Burials})";

    private static readonly JsonSerializerOptions GeoJson = new() { Converters = { new GeoJsonConverterFactory() } };

    public static TheoryData<string> Collections => ["sites", "burials"];

    [Fact(DisplayName = "/conf/core/http, root-op, root-success: the landing page links to the interface's description, the "
        + "conformance classes and the data")]
    public async Task Landing()
    {
        JsonNode landing = await served.GetAsync("/");
        Assert.Equal(["conformance", "data", "self", "service-desc", "service-doc"], Relations(landing).Order(StringComparer.Ordinal));
        foreach (JsonNode? link in landing["links"]!.AsArray())
        {
            Answer answer = await served.AskAsync((string)link!["href"]!);
            Assert.Equal((200, new Version(1, 1), ((string)link["type"]!).Split(';')[0]),
                (answer.Status, answer.HttpVersion, answer.MediaType));
        }
    }

    [Fact(DisplayName = "/conf/core/conformance-op, conformance-success: the classes that are claimed")]
    public async Task Conformance() => Assert.Equal(
        [Class + "core", Class + "geojson", Class + "oas30"],
        (await served.GetAsync("/conformance"))["conformsTo"]!.AsArray().Select(c => (string)c!));

    [Fact(DisplayName = "/conf/core/api-definition-op, api-definition-success; /conf/oas30: the description is valid OpenAPI 3.0 and "
        + "tells of every resource and parameter (read by Microsoft.OpenApi)")]
    public async Task Description()
    {
        Answer answer = await served.AskAsync("/openapi.json");
        Assert.Equal("application/vnd.oai.openapi+json", answer.MediaType);
        Microsoft.OpenApi.Reader.ReadResult read = OpenApiDocument.Parse(answer.Text, "json");
        Assert.Empty(read.Diagnostic!.Errors);
        Assert.Equal(OpenApiSpecVersion.OpenApi3_0, read.Diagnostic.SpecificationVersion);
        foreach (string path in new[] { "/api/", "/api/conformance", "/api/collections" })
            Assert.True(read.Document!.Paths.ContainsKey(path), path);
        foreach (string collection in new[] { "sites", "burials" })
        {
            OpenApiOperation items = read.Document!.Paths[$"/api/collections/{collection}/items"].Operations![HttpMethod.Get];
            Assert.Equal(["after", "bbox", "datetime", "limit"], items.Parameters!.Select(p => p.Name!)
                .Where(n => n is "after" or "bbox" or "datetime" or "limit").Order(StringComparer.Ordinal));
            IOpenApiParameter limit = items.Parameters!.Single(p => p.Name == "limit"),
                bbox = items.Parameters!.Single(p => p.Name == "bbox");
            Assert.Equal(("1", "10000", 10), (limit.Schema!.Minimum, limit.Schema.Maximum, (int)limit.Schema.Default!));
            Assert.Equal([4, 6], bbox.Schema!.OneOf!.Select(o => o.MinItems!.Value));
            Assert.All(
                items.Parameters!,
                    p => Assert.True(p is { In: ParameterLocation.Query, Style: ParameterStyle.Form, Explode: false, Required: false },
                        p.Name));
            // every property that an answer has is described
            JsonNode feature = (await served.FeaturesAsync($"/collections/{collection}/items?limit=1"))["features"]![0]!;
            Assert.Equal(feature["properties"]!.AsObject().Select(p => p.Key),
                read.Document.Components!.Schemas![collection].Properties!["properties"].Properties!.Select(p => p.Key));
        }
    }

    [Fact(DisplayName = "/conf/oas30/completeness, exceptions-codes: every status code that is met is described")]
    public async Task Codes()
    {
        OpenApiDocument description = OpenApiDocument.Parse((await served.AskAsync("/openapi.json")).Text, "json").Document!;
        foreach ((string path, int status) in new[] { ("/collections/sites/items", 200), ("/collections/sites/items?x=1", 400),
            ("/collections/sites/items/nobody~nothing", 404) })
        {
            Answer met = await served.AskAsync(path);
            Assert.Equal(status, met.Status);
            string resource = path.Contains('~', StringComparison.Ordinal) ? "/api/collections/sites/items/{featureId}"
                : "/api/collections/sites/items";
            IOpenApiResponse described =
                description.Paths[resource].Operations![HttpMethod.Get].Responses![status.ToString(CultureInfo.InvariantCulture)];
            Assert.Contains(met.MediaType!, described.Content!.Keys);
        }
    }

    [Fact(DisplayName = "/conf/core/fc-md-op, fc-md-success, fc-md-links, fc-md-items, fc-md-items-links, sfc-md-op, sfc-md-success: "
        + "collections and each one agree, and link to their features")]
    public async Task CollectionsAreTold()
    {
        JsonNode all = await served.GetAsync("/collections");
        Assert.Contains("self", Relations(all));
        Assert.Equal(["sites", "burials"], all["collections"]!.AsArray().Select(c => (string)c!["id"]!));
        foreach (JsonNode? collection in all["collections"]!.AsArray())
        {
            Assert.Contains("items", Relations(collection!));
            Assert.All(collection!["links"]!.AsArray(), link => Assert.True(link!["rel"] is not null && link["type"] is not null));
            Assert.Equal(Crs84, (string)collection["crs"]![0]!);
            Assert.Equal("feature", (string)collection["itemType"]!);
            Assert.True(JsonNode.DeepEquals(collection, await served.GetAsync($"/collections/{collection["id"]}")));
            string items = (string)collection["links"]!.AsArray().Single(l => (string)l!["rel"]! == "items" && (string)l["type"]! == "application/geo+json")!["href"]!;
            Assert.Equal("FeatureCollection", (string)(await served.FeaturesAsync(items))["type"]!);
        }
    }

    [Theory(DisplayName = "/conf/core/fc-md-extent, crs84: box and interval hold all places and times, longitude first")]
    [MemberData(nameof(Collections))]
    public async Task Extent(string collection)
    {
        JsonNode extent = (await served.GetAsync($"/collections/{collection}"))["extent"]!;
        object?[] known =
            served.Workspace
                .Query($"SELECT min(decimal_longitude), min(decimal_latitude), max(decimal_longitude), max(decimal_latitude), "
                + $"min(first), max(last) FROM {InTime(collection)}")[0];
        Assert.Equal(known.Take(4).Select(v => (double)v!), extent["spatial"]!["bbox"]![0]!.AsArray().Select(v => (double)v!));
        JsonArray interval = extent["temporal"]!["interval"]![0]!.AsArray();
        Assert.Equal(Day(known[4]) + "T00:00:00Z", (string)interval[0]!);
        Assert.Equal(Day(known[5]) + "T23:59:59Z", (string)interval[1]!);
    }

    [Theory(DisplayName = "/conf/core/fc-op, fc-response, fc-links, fc-numberMatched, fc-numberReturned; /conf/geojson/definition, "
        + "content: a page is a GeoJSON feature collection (read by NetTopologySuite)")]
    [MemberData(nameof(Collections))]
    public async Task Items(string collection)
    {
        JsonNode page = await served.FeaturesAsync($"/collections/{collection}/items");
        Assert.Equal(10, (int)page["numberReturned"]!); // the default that requirement fc-limit-definition gives
        Assert.Equal(10, page["features"]!.AsArray().Count);
        Assert.Equal(Count($"SELECT count(*) FROM {InTime(collection)}"), (int)page["numberMatched"]!);
        Assert.Equal(["self", "next", "alternate", "collection"], Relations(page));
        Assert.All(page["links"]!.AsArray(), link => Assert.True(link!["rel"] is not null && link["type"] is not null));
        FeatureCollection features = JsonSerializer.Deserialize<FeatureCollection>(page.ToJsonString(), GeoJson)!;
        Assert.Equal(10, features.Count);
    }

    [Theory(DisplayName = "/conf/core/fc-links, rec next: links named next lead through every feature once, in whatever pages")]
    [InlineData("sites", "limit=7", "SELECT replace(site_key, '/', '~') FROM " + Sites)]
    [InlineData("burials", "limit=500", "SELECT contribution_id || '~' || burial_id FROM " + Burials)]
    [InlineData("burials", "limit=99&use=suspect", "SELECT contribution_id || '~' || burial_id FROM " + Burials + " WHERE use = 'suspect'")]
    [InlineData("burials",
        "ecosystem=forest&datetime=2024-01-01/..&limit=50",
            "SELECT contribution_id || '~' || burial_id FROM " + BurialsInTime
            + " WHERE ecosystem = 'forest' AND (last >= '2024-01-01' OR last IS NULL)")]
    public async Task Paging(string collection, string query, string sql)
    {
        List<string> met = new();
        string? next = $"/collections/{collection}/items?{query}";
        while (next is not null)
        {
            JsonNode page = await served.FeaturesAsync(next);
            met.AddRange(page["features"]!.AsArray().Select(f => (string)f!["id"]!));
            next = (string?)page["links"]!.AsArray().SingleOrDefault(l => (string)l!["rel"]! == "next")?["href"];
            Assert.True(met.Count <= (int)page["numberMatched"]!);
        }

        string[] known = [.. served.Workspace.Query(sql).Select(r => (string)r[0]!).Order(StringComparer.Ordinal)];
        Assert.NotEmpty(known);
        Assert.Equal(known, met.Order(StringComparer.Ordinal));
    }

    [Theory(DisplayName = "/conf/core/fc-limit-definition, fc-limit-response: never more than the limit, and never more than the most")]
    [InlineData(1)]
    [InlineData(200)]
    [InlineData(10_000)]
    // "submit another request with a limit value that is greater than the maximum and verify that the response is not an error"
    [InlineData(10_001)]
    public async Task Limit(int limit)
    {
        JsonNode page = await served.FeaturesAsync($"/collections/burials/items?limit={limit}");
        Assert.Equal(Math.Min(limit, Count($"SELECT count(*) FROM {Burials}")), page["features"]!.AsArray().Count);
    }

    [Theory(DisplayName = "/conf/core/fc-bbox-definition, fc-bbox-response: features in the box, and those without a place")]
    [InlineData("-32,-40.5,-30,-39")]
    [InlineData("-32,-40.5,0,-30,-39,100")]
    [InlineData("170,-90,-170,90")]
    [InlineData("-180,-90,180,90")]
    public async Task Box(string box)
    {
        double[] n = [.. box.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture))];
        (double west, double south, double east, double north) = n.Length == 4 ? (n[0], n[1], n[2], n[3]) : (n[0], n[1], n[3], n[4]);
        string inside = west <= east ? $"decimal_longitude BETWEEN {Text(west)} AND {Text(east)}"
            : $"(decimal_longitude >= {Text(west)} OR decimal_longitude <= {Text(east)})";
        foreach (string collection in new[] { "sites", "burials" })
        {
            string where = $"WHERE decimal_longitude IS NULL OR decimal_latitude IS NULL OR ({inside} AND decimal_latitude BETWEEN "
                + $"{Text(south)} AND {Text(north)})";
            JsonNode page = await served.FeaturesAsync($"/collections/{collection}/items?limit=10000&bbox={box}");
            Assert.Equal(Count($"SELECT count(*) FROM {InTime(collection)} {where}"), page["features"]!.AsArray().Count);
        }
    }

    [Theory(DisplayName = "/conf/core/fc-time-definition, fc-time-response: features with a day in common, and those without a time")]
    [InlineData("2024-05-01T12:00:00Z", "2024-05-01", "2024-05-01")]
    [InlineData("2024-05-01T00:00:00Z/2024-08-01T00:00:00Z", "2024-05-01", "2024-08-01")]
    [InlineData("../2023-06-01T00:00:00Z", null, "2023-06-01")]
    [InlineData("/2023-06-01T00:00:00Z", null, "2023-06-01")]
    [InlineData("2024-09-01T00:00:00Z/..", "2024-09-01", null)]
    [InlineData("2024-09-01T00:00:00Z/", "2024-09-01", null)]
    public async Task Time(string datetime, string? from, string? to)
    {
        foreach (string collection in new[] { "sites", "burials" })
        {
            string where = $"WHERE first IS NULL OR ({(from is null ? "true" : $"last >= '{from}'")} AND "
                + $"{(to is null ? "true" : $"first <= '{to}'")})";
            JsonNode page = await served.FeaturesAsync($"/collections/{collection}/items?limit=10000&datetime={datetime}");
            int known = Count($"SELECT count(*) FROM {InTime(collection)} {where}");
            Assert.Equal(known, page["features"]!.AsArray().Count);
            Assert.InRange(known, 1, Count($"SELECT count(*) FROM {InTime(collection)}") - 1);
        }
    }

    [Theory(DisplayName = "/rec/core/fc-filters: features whose property is the value")]
    [InlineData("sites", "land_use=arable", "land_use = 'arable'")]
    [InlineData("sites", "coordinates_generalised=true", "coordinates_generalised")]
    [InlineData("sites", "use=rejected&ecosystem=grassland", "use = 'rejected' AND ecosystem = 'grassland'")]
    [InlineData("burials", "ecosystem=heathland&use=accepted", "ecosystem = 'heathland' AND use = 'accepted'")]
    [InlineData("burials", "treatment=warmed", "treatment = 'warmed'")]
    [InlineData("burials", "campaign=2024-spring", "campaign = '2024-spring'")]
    public async Task Filter(string collection, string query, string where)
    {
        int known = Count($"SELECT count(*) FROM {InTime(collection)} WHERE {where}");
        Assert.Equal(known, (int)(await served.FeaturesAsync($"/collections/{collection}/items?{query}"))["numberMatched"]!);
        Assert.InRange(known, 1, Count($"SELECT count(*) FROM {InTime(collection)}") - 1);
    }

    [Theory(DisplayName = "/conf/core/f-op, f-success, f-links: a feature alone is what it is on its page, with the numbers of the table")]
    [MemberData(nameof(Collections))]
    public async Task One(string collection)
    {
        JsonNode page = await served.FeaturesAsync($"/collections/{collection}/items?limit=5&use=accepted");
        foreach (JsonNode? feature in page["features"]!.AsArray())
        {
            JsonNode alone = await served.FeaturesAsync($"/collections/{collection}/items/{feature!["id"]}");
            Assert.Equal(["self", "collection"], Relations(alone));
            alone.AsObject().Remove("links");
            Assert.True(JsonNode.DeepEquals(feature, alone), feature.ToJsonString());
            JsonNode p = alone["properties"]!;
            string columns = collection == "sites" ? "decimal_longitude, decimal_latitude, elevation_m"
                : "decimal_longitude, decimal_latitude, k_per_day, k_u_per_day, s";
            string where = collection == "sites" ? $"site_key = '{p["site_key"]}'"
                : $"contribution_id = '{p["contribution_id"]}' AND burial_id = '{p["burial_id"]}'";
            object?[] known = served.Workspace.Query($"SELECT {columns} FROM {InTime(collection)} WHERE {where}").Single();
            Assert.Equal(known.Take(2).Select(v => (double)v!), alone["geometry"]!["coordinates"]!.AsArray().Select(v => (double)v!));
            Assert.Equal(known.Skip(2), columns.Split(", ").Skip(2).Select(c => (object?)(double?)p[c]));
        }
    }

    [Theory(DisplayName = "/conf/core/query-param-unknown, query-param-invalid, and worse: 400 with one sentence")]
    [InlineData("/?x=1")]
    [InlineData("/conformance?f=json")]
    [InlineData("/collections?limit=1")]
    [InlineData("/collections/sites?bbox=0,0,1,1")]
    [InlineData("/collections/sites/items?unknown=1")]
    [InlineData("/collections/sites/items?LIMIT=1")]
    [InlineData("/collections/sites/items?limit=0")]
    [InlineData("/collections/sites/items?limit=-5")]
    [InlineData("/collections/sites/items?limit=99999999999999999999")]
    [InlineData("/collections/sites/items?limit=1&limit=2")]
    [InlineData("/collections/sites/items?limit")]
    [InlineData("/collections/sites/items?bbox=0,0,1")]
    [InlineData("/collections/sites/items?bbox=0,0,1,NaN")]
    [InlineData("/collections/sites/items?bbox=0,91,1,92")]
    [InlineData("/collections/sites/items?bbox=%00")]
    [InlineData("/collections/sites/items?datetime=yesterday")]
    [InlineData("/collections/sites/items?datetime=2024-13-01/..")]
    [InlineData("/collections/sites/items?ecosystem=forest%27%20OR%20%271%27=%271")]
    [InlineData("/collections/sites/items?contributor_id=..%2F..%2Fintake")]
    [InlineData("/collections/burials/items?plot=%00")]
    [InlineData("/collections/burials/items?treatment=%0d%0aSet-Cookie:%20a=b")]
    [InlineData("/collections/burials/items?after=%0a~%0a")]
    [InlineData("/collections/burials/items?after=nothing")]
    [InlineData("/collections/burials/items?k_per_day=0.01;DROP%20TABLE")]
    [InlineData("/collections/burials/items/a~b?limit=1")]
    public async Task Refused(string path)
    {
        Answer answer = await served.AskAsync(path);
        Assert.Equal((400, "application/problem+json"), (answer.Status, answer.MediaType));
        string detail = (string)JsonNode.Parse(answer.Text)!["detail"]!;
        Assert.EndsWith(".", detail, StringComparison.Ordinal);
        Assert.DoesNotContain(" at DecayAtlas.", detail, StringComparison.Ordinal);
        Assert.DoesNotContain(detail, c => char.IsControl(c));
    }

    [Fact(DisplayName = "GDAL's own client of the standard reads all burials, and their mean k is DuckDB's")]
    public async Task ReadByGdal()
    {
        Assert.SkipUnless(Command.Has("ogrinfo"), "GDAL is not installed");
        CommandResult result =
            await Task.Run(() =>
                Command.Run(served.Workspace.Folder, "ogrinfo", "-q", $"OAPIF:{served.Root}", "-dialect", "SQLite", "-sql",
                    "SELECT count(*) AS n, avg(k_per_day) AS k FROM burials WHERE use = 'accepted'"),
                    TestContext.Current.CancellationToken);
        object?[] known = served.Workspace.Query($"SELECT count(*), avg(k_per_day) FROM {Burials} WHERE use = 'accepted'")[0];
        Assert.Contains($"n (Integer) = {known[0]}", result.Output, StringComparison.Ordinal);
        string k = result.Output.Split("k (Real) = ")[1].Split('\n')[0];
        Assert.Equal((double)known[1]!, double.Parse(k, CultureInfo.InvariantCulture), 1e-12);
    }

    [Fact(DisplayName = "A reader who has the answer of this release is told that it still holds")]
    public async Task StillHolds()
    {
        Answer first = await served.AskAsync("/collections/sites/items");
        Answer second = await served.AskAsync("/collections/sites/items", first.Tag);
        Assert.Equal((304, ""), (second.Status, second.Text));
    }

    private static string InTime(string collection) => collection == "sites" ? SitesInTime : BurialsInTime;

    private int Count(string sql) => Convert.ToInt32(served.Workspace.Query(sql)[0][0], CultureInfo.InvariantCulture);

    private static IEnumerable<string> Relations(JsonNode document) => document["links"]!.AsArray().Select(l => (string)l!["rel"]!);

    private static string Day(object? value) => value is DateOnly day ? day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
        : ((DateTime)value!).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
