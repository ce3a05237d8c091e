using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Api;

/// <summary>The documents around the features, as OGC 17-069r4 lays them down in 7.2 to 7.14.</summary>
internal static class ApiDocuments
{
    public const string Json = "application/json", OpenApiMediaType = "application/vnd.oai.openapi+json;version=3.0";

    public const string Crs84 = "http://www.opengis.net/def/crs/OGC/1.3/CRS84";

    /// <summary>The classes that are claimed; each is held against the abstract tests of the standard.</summary>
    public static object Conformance => new
    {
        conformsTo = new[]
        {
            "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/core",
            "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/geojson",
            "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/oas30",
        },
    };

    public static object Landing(string root, ReleaseFeatures release) => new
    {
        title = release.Title,
        description = release.Description,
        links = new[]
        {
            Link(root + "/", "self", Json, "This document"),
            Link(root + "/openapi.json", "service-desc", OpenApiMediaType, "The interface, described by OpenAPI 3.0"),
            Link(root + "/guide", "service-doc", "text/html", "The interface, described for people"),
            Link(root + "/conformance", "conformance", Json, "The conformance classes that are kept"),
            Link(root + "/collections", "data", Json, "The collections of features"),
        },
    };

    public static object Collections(string root, ReleaseFeatures release) => new
    {
        links = new[] { Link(root + "/collections", "self", Json, "This document") },
        collections = FeatureCollectionInfo.All.Select(c => Collection(root, release, c)),
    };

    public static object Collection(string root, ReleaseFeatures release, FeatureCollectionInfo collection)
    {
        FeatureTable table = release.Of(collection);
        string address = $"{root}/collections/{collection.Id}";
        Dictionary<string, object> extent = [];
        if (table.Extent is { } box)
            extent["spatial"] = new { bbox = new[] { new[] { box.West, box.South, box.East, box.North } }, crs = Crs84 };
        if (table.Days is { } days)
            extent["temporal"] = new { interval = new[] { new[] { Instant(days.From, "T00:00:00Z"), Instant(days.To, "T23:59:59Z") } } };
        return new
        {
            id = collection.Id,
            title = collection.Title,
            description = collection.Description,
            links = release.Licences.Where(l => Uri.TryCreate(l, UriKind.Absolute, out _))
                .Select(l => Link(l, "license", "text/html", "Licence of contributions"))
                .Prepend(Link(address + "/items?f=csv", "items", "text/csv", collection.Title + ", as CSV"))
                .Prepend(Link(address + "/items", "items", FeatureWriter.MediaType, collection.Title))
                .Prepend(Link(address, "self", Json, "This document")),
            extent,
            itemType = "feature",
            crs = new[] { Crs84 },
        };
    }

    private static string? Instant(DateOnly? day, string time) => day is null ? null : $"{day:O}{time}";

    public static JsonObject Link(string href, string rel, string type, string title) =>
        new() { ["href"] = href, ["rel"] = rel, ["type"] = type, ["title"] = title };
}
