using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Api;

/// <summary>The documents around the features, as OGC 17-069r4 lays them down in 7.2 to 7.14.</summary>
internal static class ApiDocuments
{
    public const string Json = "application/json";

    public const string OpenApiMediaType = "application/vnd.oai.openapi+json;version=3.0";

    private const string Crs84 = "http://www.opengis.net/def/crs/OGC/1.3/CRS84";

    /// <summary>The classes that are claimed; each is held against the abstract tests of the standard.</summary>
    private static readonly string[] ConformsTo =
    [
        "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/core",
        "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/geojson",
        "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/oas30",
    ];

    public static JsonObject Landing(string root, ReleaseFeatures release) => new()
    {
        ["title"] = release.Title,
        ["description"] = release.Description,
        ["links"] = new JsonArray(
            Link(root + "/", "self", Json, "This document"),
            Link(root + "/openapi.json", "service-desc", OpenApiMediaType, "The interface, described by OpenAPI 3.0"),
            Link(root + "/guide", "service-doc", "text/html", "The interface, described for people"),
            Link(root + "/conformance", "conformance", Json, "The conformance classes that are kept"),
            Link(root + "/collections", "data", Json, "The collections of features")),
    };

    public static JsonObject Conformance() => new() { ["conformsTo"] = new JsonArray([.. ConformsTo.Select(c => (JsonNode)c)]) };

    public static JsonObject Collections(string root, ReleaseFeatures release) => new()
    {
        ["links"] = new JsonArray(Link(root + "/collections", "self", Json, "This document")),
        ["collections"] = new JsonArray([.. FeatureCollectionInfo.All.Select(c => Collection(root, release, c))]),
    };

    public static JsonObject Collection(string root, ReleaseFeatures release, FeatureCollectionInfo collection)
    {
        FeatureTable table = release.Of(collection);
        string address = $"{root}/collections/{collection.Id}";
        JsonObject extent = new();
        if (table.Extent is { } box)
        {
            extent["spatial"] = new JsonObject
            {
                ["bbox"] = new JsonArray(new JsonArray(box.West, box.South, box.East, box.North)),
                ["crs"] = Crs84
            };
        }

        if (table.Days is { } days)
        {
            extent["temporal"] = new JsonObject
            {
                ["interval"] = new JsonArray(new JsonArray(Instant(days.From, "T00:00:00Z"), Instant(days.To, "T23:59:59Z")))
            };
        }

        JsonArray links = new(
            Link(address, "self", Json, "This document"),
            Link(address + "/items", "items", FeatureWriter.MediaType, collection.Title));
        foreach (string licence in release.Licences.Where(l => Uri.TryCreate(l, UriKind.Absolute, out _)))
            links.Add((JsonNode)Link(licence, "license", "text/html", "Licence of contributions"));
        return new JsonObject
        {
            ["id"] = collection.Id,
            ["title"] = collection.Title,
            ["description"] = collection.Description,
            ["links"] = links,
            ["extent"] = extent,
            ["itemType"] = "feature",
            ["crs"] = new JsonArray(Crs84),
        };
    }

    private static JsonNode? Instant(DateOnly? day, string time) => day is { } known
        ? known.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture) + time : null;

    private static JsonObject Link(string address, string relation, string mediaType, string title) =>
        new() { ["href"] = address, ["rel"] = relation, ["type"] = mediaType, ["title"] = title };
}
