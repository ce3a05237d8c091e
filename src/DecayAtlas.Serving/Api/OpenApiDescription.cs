using System.Globalization;
using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>The interface as an OpenAPI 3.0 document: its resources, parameters and answers, with the unit of every property.</summary>
internal static class OpenApiDescription
{
    /// <param name="server">Address that the paths follow, without a slash at its end.</param>
    /// <param name="root">Path of the features' root from there, for example /api.</param>
    public static OpenApiDocument Of(string server, string root, ReleaseFeatures release)
    {
        OpenApiPaths paths = new()
        {
            [root + "/"] = Feature("Landing", "Where to begin", "The links to everything else", "landing"),
            [root + "/conformance"] = Feature("Conformance", "Conformance classes that are kept", "Their addresses", "conformance"),
            [root + "/collections"] =
                Feature("Collections", "The collections of features", "What they are and what they cover", "collections"),
        };
        Dictionary<string, IOpenApiSchema> schemas = CommonSchemas();
        foreach (FeatureCollectionInfo collection in FeatureCollectionInfo.All)
        {
            string path = $"{root}/collections/{collection.Id}";
            schemas[collection.Id] = FeatureSchema(release.Of(collection));
            schemas[collection.Id + "-page"] = Schemas.Object(
                ("type", Schemas.OneOf("FeatureCollection")), ("links", Links), ("numberMatched", Schemas.Count),
                ("numberReturned", Schemas.Count), ("features", Schemas.ArrayOf(Schemas.Named(collection.Id))));
            paths[path] = Feature($"{collection.Id}-collection", collection.Title, collection.Description, "collection");
            paths[path + "/items"] = Feature($"{collection.Id}-items", $"{collection.Title}, page by page", "One page",
                collection.Id + "-page", FeatureWriter.MediaType, ItemParameters(collection, release.Of(collection)));
            paths[path + "/items/{featureId}"] = Feature($"{collection.Id}-item",
                $"One feature of {collection.Title.ToLowerInvariant()}", "The feature", collection.Id, FeatureWriter.MediaType,
                [Resource.Parameter("featureId", "Its id, as a page of features gives it.", Schemas.Text, ParameterLocation.Path)]);
        }

        foreach ((string path, OpenApiPathItem item) in OtherResources.All)
            paths[path] = item;
        return new OpenApiDocument
        {
            Info = new() { Title = release.Title, Description = release.Description, Version = ServerVersion.Own },
            Servers = [new() { Url = server }],
            Paths = paths,
            Components = new()
            {
                Schemas = schemas,
                Responses = new Dictionary<string, IOpenApiResponse>
                {
                    ["problem"] = Resource.Answer(
                        "What was found, what was expected, and how to mend it", Schemas.Named("problem"), Problem.MediaType),
                },
            },
        };
    }

    private static OpenApiSchema Links => Schemas.ArrayOf(Schemas.Named("link"));

    private static OpenApiPathItem Feature(string id, string summary, string answer, string schema,
        string mediaType = ApiDocuments.Json, IEnumerable<IOpenApiParameter>? parameters = null) =>
        Resource.Get(id, summary, parameters, ("200", Resource.Answer(answer, Schemas.Named(schema), mediaType)),
            ("304", new OpenApiResponse { Description = "The answer that the reader has still holds" }),
            ("400", Resource.Problem), ("404", Resource.Problem), ("default", Resource.Problem));

    private static IEnumerable<IOpenApiParameter> ItemParameters(FeatureCollectionInfo collection, FeatureTable table) =>
    [
        Resource.Parameter("bbox", "Only features in this box of degrees, WGS 84: west, south, east, north; those without a place too.",
            new OpenApiSchema
            {
                Type = JsonSchemaType.Array,
                OneOf = [new OpenApiSchema { MinItems = 4, MaxItems = 4 }, new OpenApiSchema { MinItems = 6, MaxItems = 6 }],
                Items = Schemas.Number(),
            }),
        Resource.Parameter("datetime",
            "Only features that have a day in common with this time or span (RFC 3339; .. for an open end); those without a time too.",
            Schemas.Text),
        Resource.Parameter("limit", "How many features at most.",
            new OpenApiSchema
            {
                Type = JsonSchemaType.Integer,
                Format = "int32",
                Minimum = "1",
                Maximum = PageRequest.MostAtOnce.ToString(CultureInfo.InvariantCulture),
                Default = PageRequest.DefaultLimit,
            }),
        Resource.Parameter("f", "The format: GeoJSON unless stated, or CSV, whose next page is named in the header Link.",
            Schemas.OneOf("geojson", "json", "csv")),
        Resource.Parameter("after", "Id of the feature that the page follows; links named next hold it.", Schemas.Text),
        .. collection.Filters.Select(filter =>
        {
            string? meaning = table.Columns.FirstOrDefault(c => c.Info.Name == filter.Property)?.Info.Description;
            return Resource.Parameter(filter.Property, $"Only features whose {filter.Property} is this. {meaning}".TrimEnd(),
                filter.Choices is ["true", "false"] ? Schemas.Boolean : Schemas.OneOf([.. filter.Choices]));
        }),
    ];

    private static OpenApiSchema FeatureSchema(FeatureTable table) => Schemas.Object(
        ("type", Schemas.OneOf("Feature")), ("id", Schemas.Text), ("geometry", Schemas.Named("point")),
        ("properties", Schemas.Object([.. table.Columns.Select(c => (c.Info.Name, (IOpenApiSchema)PropertySchema(c.Info)))])),
        ("links", Links));

    private static OpenApiSchema PropertySchema(ColumnInfo info) =>
        (info.Type == "date" ? Schemas.Day : new OpenApiSchema { Type = info.Type.ToJsonSchemaType() })
            .OrNull().Meaning(info.Unit is null ? info.Description : $"{info.Description} Unit: {info.Unit}");

    private static Dictionary<string, IOpenApiSchema> CommonSchemas() => new()
    {
        ["link"] = Schemas.Object(Schemas.Texts("href", "rel", "type", "title")),
        ["landing"] = Schemas.Object([.. Schemas.Texts("title", "description"), ("links", Links)]),
        ["conformance"] = Schemas.Object(("conformsTo", Schemas.ArrayOf(Schemas.Text))),
        ["collection"] = Schemas.Object(
            [.. Schemas.Texts("id", "title", "description"), ("links", Links),
            ("extent", new OpenApiSchema { Type = JsonSchemaType.Object }), ("itemType", Schemas.Text),
            ("crs", Schemas.ArrayOf(Schemas.Text))]),
        ["collections"] = Schemas.Object(("links", Links), ("collections", Schemas.ArrayOf(Schemas.Named("collection")))),
        ["point"] = new OpenApiSchema
        {
            Type = JsonSchemaType.Object | JsonSchemaType.Null,
            Required = new HashSet<string> { "type", "coordinates" },
            Properties = new Dictionary<string, IOpenApiSchema>
            {
                ["type"] = Schemas.OneOf("Point"),
                ["coordinates"] = new OpenApiSchema { Type = JsonSchemaType.Array, MinItems = 2, MaxItems = 2, Items = Schemas.Number() },
            },
        },
        ["problem"] = Schemas.Object([.. Schemas.Texts("type", "title"), ("status", Schemas.Count), ("detail", Schemas.Text)]),
    };
}
