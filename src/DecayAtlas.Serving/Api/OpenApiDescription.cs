using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Api;

/// <summary>The interface as an OpenAPI 3.0 document: its resources, parameters and answers, with the unit of every property.</summary>
internal static class OpenApiDescription
{
    /// <param name="server">Address that the paths follow, without a slash at its end.</param>
    /// <param name="root">Path of the features' root from there, for example /api.</param>
    /// <param name="version">Version of the software.</param>
    /// <param name="others">Resources beside the features, by their paths.</param>
    public static JsonObject Of(string server, string root, string version, ReleaseFeatures release,
        IReadOnlyDictionary<string, Func<JsonObject>> others)
    {
        JsonObject paths = new()
        {
            [root + "/"] = Get("Landing", "Where to begin", Answer("The links to everything else", ApiDocuments.Json, Ref("landing"))),
            [root + "/conformance"] =
                Get("Conformance", "Conformance classes that are kept", Answer("Their addresses", ApiDocuments.Json, Ref("conformance"))),
            [root + "/collections"] =
                Get("Collections", "The collections of features",
                    Answer("What they are and what they cover", ApiDocuments.Json, Ref("collections"))),
        };
        JsonObject schemas = CommonSchemas();
        foreach (FeatureCollectionInfo collection in FeatureCollectionInfo.All)
        {
            string path = $"{root}/collections/{collection.Id}";
            schemas[collection.Id] = FeatureSchema(release.Of(collection));
            schemas[collection.Id + "-page"] = PageSchema(collection.Id);
            paths[path] =
                Get($"{collection.Id}-collection", collection.Title, Answer(collection.Description, ApiDocuments.Json, Ref("collection")));
            paths[path + "/items"] =
                Get($"{collection.Id}-items", $"{collection.Title}, page by page",
                    Answer("One page", FeatureWriter.MediaType, Ref(collection.Id + "-page")),
                    ItemParameters(collection, release.Of(collection)));
            paths[path + "/items/{featureId}"] = Get(
                $"{collection.Id}-item", $"One feature of {collection.Title.ToLowerInvariant()}",
                Answer("The feature", FeatureWriter.MediaType, Ref(collection.Id)),
                new JsonArray(
                    new JsonObject
                    {
                        ["name"] = "featureId",
                        ["in"] = "path",
                        ["required"] = true,
                        ["description"] = "Its id, as a page of features gives it.",
                        ["schema"] = new JsonObject { ["type"] = "string" }
                    }));
        }

        foreach ((string path, Func<JsonObject> item) in others.OrderBy(o => o.Key, StringComparer.Ordinal))
            paths[path] = item();
        return new JsonObject
        {
            ["openapi"] = "3.0.3",
            ["info"] = new JsonObject { ["title"] = release.Title, ["description"] = release.Description, ["version"] = version },
            ["servers"] = new JsonArray(new JsonObject { ["url"] = server }),
            ["paths"] = paths,
            ["components"] = new JsonObject
            {
                ["schemas"] = schemas,
                ["responses"] = new JsonObject
                {
                    ["problem"] =
                    Answer("What was found, what was expected, and how to mend it", "application/problem+json", Ref("problem"))
                }
            },
        };
    }

    private static JsonObject Get(string id, string summary, JsonObject answer, JsonArray? parameters = null)
    {
        Func<JsonObject> problem = () => new JsonObject { ["$ref"] = "#/components/responses/problem" };
        JsonObject get = new() { ["operationId"] = id, ["summary"] = summary };
        if (parameters is not null)
            get["parameters"] = parameters;
        get["responses"] = new JsonObject
        {
            ["200"] = answer,
            ["304"] = new JsonObject { ["description"] = "The answer that the reader has still holds" },
            ["400"] = problem(),
            ["404"] = problem(),
            ["default"] = problem()
        };
        return new JsonObject { ["get"] = get };
    }

    private static JsonObject Answer(string description, string mediaType, JsonObject schema) =>
        new() { ["description"] = description, ["content"] = new JsonObject { [mediaType] = new JsonObject { ["schema"] = schema } } };

    private static JsonArray ItemParameters(FeatureCollectionInfo collection, FeatureTable table)
    {
        Func<JsonObject> number = () => new JsonObject { ["type"] = "number" };
        JsonArray parameters = new(
            Parameter("bbox", "Only features in this box of degrees, WGS 84: west, south, east, north; those without a place too.",
                new JsonObject
                {
                    ["type"] = "array",
                    ["oneOf"] = new JsonArray(new JsonObject { ["minItems"] = 4, ["maxItems"] = 4 },
                    new JsonObject { ["minItems"] = 6, ["maxItems"] = 6 }),
                    ["items"] = number(),
                }),
            Parameter("datetime",
                "Only features that have a day in common with this time or span (RFC 3339; .. for an open end); those without a time too.",
                Text()),
            Parameter("limit", "How many features at most.",
                new JsonObject
                {
                    ["type"] = "integer",
                    ["format"] = "int32",
                    ["minimum"] = 1,
                    ["maximum"] = PageRequest.MostAtOnce,
                    ["default"] = PageRequest.DefaultLimit
                }),
            Parameter("after", "Id of the feature that the page follows; links named next hold it.", Text()));
        foreach (PropertyFilter filter in collection.Filters)
        {
            JsonObject schema = Text();
            if (filter.Choices is ["true", "false"])
                schema["type"] = "boolean";
            else if (filter.Choices.Count > 0)
                schema["enum"] = new JsonArray([.. filter.Choices.Select(c => (JsonNode)c)]);
            string? meaning = table.Columns.FirstOrDefault(c => c.Info.Name == filter.Property)?.Info.Description;
            parameters.Add(
                (JsonNode)Parameter(filter.Property, $"Only features whose {filter.Property} is this. {meaning}".TrimEnd(), schema));
        }

        return parameters;
    }

    private static JsonObject Parameter(string name, string description, JsonObject schema) =>
        new()
        {
            ["name"] = name,
            ["in"] = "query",
            ["required"] = false,
            ["description"] = description,
            ["style"] = "form",
            ["explode"] = false,
            ["schema"] = schema
        };

    private static JsonObject FeatureSchema(FeatureTable table)
    {
        JsonObject properties = new();
        foreach (ColumnInfo info in table.Columns.Select(c => c.Info))
        {
            JsonObject property = new()
            {
                ["type"] = info.Type == "date" ? "string" : info.Type,
                ["nullable"] = true,
                ["description"] = info.Unit is null ? info.Description : $"{info.Description} Unit: {info.Unit}"
            };
            if (info.Type == "date")
                property["format"] = "date";
            properties[info.Name] = property;
        }

        return Object(("type", Only("Feature")), ("id", Text()), ("geometry", Ref("point")),
            ("properties", new JsonObject { ["type"] = "object", ["properties"] = properties }), ("links", Links()));
    }

    private static JsonObject PageSchema(string feature) => Object(
        ("type", Only("FeatureCollection")), ("links", Links()), ("numberMatched", Count()), ("numberReturned", Count()),
        ("features", ArrayOf(Ref(feature))));

    private static JsonObject CommonSchemas() => new()
    {
        ["link"] = Object(("href", Text()), ("rel", Text()), ("type", Text()), ("title", Text())),
        ["landing"] = Object(("title", Text()), ("description", Text()), ("links", Links())),
        ["conformance"] = Object(("conformsTo", ArrayOf(Text()))),
        ["collection"] =
            Object(("id", Text()), ("title", Text()), ("description", Text()), ("links", Links()),
                ("extent", new JsonObject { ["type"] = "object" }), ("itemType", Text()), ("crs", ArrayOf(Text()))),
        ["collections"] = Object(("links", Links()), ("collections", ArrayOf(Ref("collection")))),
        ["point"] = new JsonObject
        {
            ["type"] = "object",
            ["nullable"] = true,
            ["required"] = new JsonArray("type", "coordinates"),
            ["properties"] = new JsonObject
            {
                ["type"] = Only("Point"),
                ["coordinates"] = new JsonObject
                {
                    ["type"] = "array",
                    ["minItems"] = 2,
                    ["maxItems"] = 2,
                    ["items"] = new JsonObject { ["type"] = "number" }
                }
            },
        },
        ["problem"] = Object(("type", Text()), ("title", Text()), ("status", Count()), ("detail", Text())),
    };

    private static JsonObject Object(params (string Name, JsonObject Schema)[] properties)
    {
        JsonObject schema = new();
        foreach ((string name, JsonObject property) in properties)
            schema[name] = property;
        return new JsonObject { ["type"] = "object", ["properties"] = schema };
    }

    private static JsonObject ArrayOf(JsonObject items) => new() { ["type"] = "array", ["items"] = items };

    private static JsonObject Links() => ArrayOf(Ref("link"));

    private static JsonObject Text() => new() { ["type"] = "string" };

    private static JsonObject Count() => new() { ["type"] = "integer", ["minimum"] = 0 };

    private static JsonObject Only(string value) => new() { ["type"] = "string", ["enum"] = new JsonArray(value) };

    private static JsonObject Ref(string schema) => new() { ["$ref"] = "#/components/schemas/" + schema };
}
