using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Positions;

/// <summary>The documents of OGC API - Environmental Data Retrieval 1.1 (OGC 19-086r6; from memory), and coverages as CoverageJSON (OGC
/// 21-069r2).</summary>
internal static class PositionDocuments
{
    public const string CoverageJsonMediaType = "application/prs.coverage+json";

    private const string Wkt = "GEOGCS[\"WGS 84 (CRS84)\",DATUM[\"WGS_1984\",SPHEROID[\"WGS 84\",6378137,298.257223563]],"
        + "PRIMEM[\"Greenwich\",0],UNIT[\"degree\",0.0174532925199433],AXIS[\"Longitude\",EAST],AXIS[\"Latitude\",NORTH]]";

    private const string Edr = "http://www.opengis.net/spec/ogcapi-edr-1/1.1/conf/";

    public static JsonObject Conformance => new()
    {
        ["conformsTo"] = new JsonArray(
            "http://www.opengis.net/spec/ogcapi-common-1/1.0/conf/core", "http://www.opengis.net/spec/ogcapi-common-2/1.0/conf/collections",
            Edr + "core", Edr + "collections", Edr + "json", Edr + "geojson", Edr + "covjson", Edr + "oas30",
            Edr + "queries"),
    };

    public static JsonObject Landing(string root, string description, string title) => new()
    {
        ["title"] = title,
        ["description"] = description,
        ["links"] = new JsonArray(
            ApiDocuments.Link(root + "/", "self", ApiDocuments.Json, "This document"),
            ApiDocuments.Link(root + "/conformance", "conformance", ApiDocuments.Json, "The conformance classes that are kept"),
            ApiDocuments.Link(root + "/collections", "data", ApiDocuments.Json, "The collections of parameters"),
            ApiDocuments.Link(description, "service-desc", ApiDocuments.OpenApiMediaType, "The interface, described by OpenAPI 3.0")),
    };

    public static JsonObject Collections(string root, IEnumerable<PositionCollection> collections, QueryBox? extent) => new()
    {
        ["links"] = new JsonArray(ApiDocuments.Link(root + "/collections", "self", ApiDocuments.Json, "This document")),
        ["collections"] = new JsonArray([.. collections.Select(c => Collection(root, c, extent))]),
    };

    public static JsonObject Collection(string root, PositionCollection collection, QueryBox? extent)
    {
        string address = $"{root}/collections/{collection.Id}";
        JsonArray formats = [PositionQuery.CoverageJson, PositionQuery.GeoJson];
        JsonObject query = ApiDocuments.Link(address + "/position", "data", CoverageJsonMediaType, "What is known of a place");
        query["variables"] = new JsonObject
        {
            ["title"] = "Position query",
            ["query_type"] = "position",
            ["output_formats"] = formats.DeepClone(),
            ["default_output_format"] = PositionQuery.CoverageJson,
            ["crs_details"] = new JsonArray(new JsonObject { ["crs"] = "CRS84", ["wkt"] = Wkt }),
        };
        // a model says something of every place of its grids; where its sites lie is what it can be held against
        QueryBox box = extent ?? new QueryBox(-180, -90, 180, 90);
        return new()
        {
            ["id"] = collection.Id,
            ["title"] = collection.Title,
            ["description"] = collection.Description,
            ["links"] = new JsonArray(
                ApiDocuments.Link(address, "self", ApiDocuments.Json, "This document"),
                ApiDocuments.Link(address + "/position", "data", CoverageJsonMediaType, "Position query")),
            ["extent"] = new JsonObject
            {
                ["spatial"] = new JsonObject
                {
                    ["bbox"] = new JsonArray(new JsonArray(box.West, box.South, box.East, box.North)),
                    ["crs"] = ApiDocuments.Crs84,
                },
            },
            ["data_queries"] = new JsonObject { ["position"] = new JsonObject { ["link"] = query } },
            ["crs"] = new JsonArray("CRS84"),
            ["output_formats"] = formats,
            ["parameter_names"] = new JsonObject(collection.Parameters.Select(p => KeyValuePair.Create(p.Name, (JsonNode?)ParameterOf(p)))),
        };
    }

    /// <summary>A coverage of one place; a value that is not known is null.</summary>
    public static JsonObject Coverage(PointPrediction at, IReadOnlyList<PositionParameter> parameters) => new()
    {
        ["type"] = "Coverage",
        ["domain"] = new JsonObject
        {
            ["type"] = "Domain",
            ["domainType"] = "Point",
            ["axes"] = new JsonObject
            {
                ["x"] = new JsonObject { ["values"] = new JsonArray(at.Point.LongitudeDegrees) },
                ["y"] = new JsonObject { ["values"] = new JsonArray(at.Point.LatitudeDegrees) },
            },
            ["referencing"] = new JsonArray(new JsonObject
            {
                ["coordinates"] = new JsonArray("x", "y"),
                ["system"] = new JsonObject { ["type"] = "GeographicCRS", ["id"] = ApiDocuments.Crs84 },
            }),
        },
        ["parameters"] = new JsonObject(parameters.Select(p => KeyValuePair.Create(p.Name, (JsonNode?)ParameterOf(p)))),
        ["ranges"] = new JsonObject(parameters.Select(p => KeyValuePair.Create(p.Name, (JsonNode?)new JsonObject
        {
            ["type"] = "NdArray",
            ["dataType"] = "float",
            ["values"] = new JsonArray(p.ValueOf(at) is { } value ? JsonValue.Create(value) : null),
        }))),
    };

    /// <summary>The same as a collection of one feature (EDR GeoJSON: its parameters beside it).</summary>
    public static JsonObject Features(PointPrediction at, IReadOnlyList<PositionParameter> parameters)
    {
        JsonObject properties = new(parameters.Select(p => KeyValuePair.Create(p.Name,
            p.ValueOf(at) is { } value ? (JsonNode?)JsonValue.Create(value) : null)))
        {
            ["label"] = "Asked place",
            ["status"] = at.Status,
            ["parameter-name"] = new JsonArray([.. parameters.Select(p => (JsonNode)p.Name)]),
        };
        return new()
        {
            ["type"] = "FeatureCollection",
            ["features"] = new JsonArray(new JsonObject
            {
                ["type"] = "Feature",
                ["geometry"] = new JsonObject
                {
                    ["type"] = "Point",
                    ["coordinates"] = new JsonArray(at.Point.LongitudeDegrees, at.Point.LatitudeDegrees),
                },
                ["properties"] = properties,
            }),
            ["parameters"] = new JsonArray([.. parameters.Select(ParameterOf)]),
        };
    }

    private static JsonObject ParameterOf(PositionParameter parameter)
    {
        JsonObject said = new()
        {
            ["type"] = "Parameter",
            ["id"] = parameter.Name,
            ["description"] = Text(parameter.Label),
            ["observedProperty"] = new JsonObject { ["label"] = Text(parameter.Label) },
        };
        if (parameter.Unit is { } unit)
        {
            said["unit"] = new JsonObject
            {
                ["symbol"] = new JsonObject { ["value"] = unit, ["type"] = "http://www.opengis.net/def/uom/UCUM/" },
            };
        }
        return said;

        static JsonObject Text(string english) => new() { ["en"] = english };
    }
}
