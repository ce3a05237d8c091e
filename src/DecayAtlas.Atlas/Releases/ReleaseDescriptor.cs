using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Releases;

/// <summary>The documents that a release carries: Data Package descriptor, citation, checksums.</summary>
internal static class ReleaseDescriptor
{
    public const string DataPackageName = "datapackage.json";

    public const string CitationName = "CITATION.cff";

    public const string Description =
        "Litter-bag decomposition: decay rate k and stabilisation factor S with uncertainty, sites, covariates and flags. Not a basis for "
        + "regulation, fertiliser or carbon-credit decisions.";

    private const string Software = "DecayAtlas ", CitationKey = "citation";

    /// <summary>What a release's descriptor says it was made from; <see langword="null"/> where it does not say all of it.</summary>
    public static ReleaseStatement? StatementIn(JsonNode? descriptor) =>
        descriptor is JsonObject root && root["settings"] is { } settings && (string?)root["software"] is { } software
        && software.StartsWith(Software, StringComparison.Ordinal)
            ? new ReleaseStatement((string?)root["title"] ?? "", (string?)root["publisher"] ?? "", settings.ToJsonString(JsonText.Options),
                software[Software.Length..],
                [.. (root["licenses"] as JsonArray ?? []).Select(l => (string?)l?["name"] ?? "")],
                root[CitationKey] is JsonObject said ? new Citation(said) : null)
            : null;

    public static string DataPackage(string id, ReleaseStatement statement, IReadOnlyList<ReleaseFile> files)
    {
        IEnumerable<JsonNode> tables = AtlasTables.All.Select(table =>
        {
            ReleaseFile[] own = [.. files.Where(f => f.Table == table.Name)];
            return new JsonObject
            {
                ["name"] = table.Name,
                ["title"] = table.Description,
                ["path"] = own.Length == 0 ? table.Name : Texts(own.Select(f => f.Path)),
                ["format"] = "parquet",
                ["mediatype"] = "application/vnd.apache.parquet",
                ["partitioned_by"] = Texts(table.PartitionedBy),
                ["rows"] = own.Sum(f => f.Rows),
                ["schema"] = new JsonObject
                {
                    ["fields"] = new JsonArray([.. table.ColumnInfos.Select(FieldOf)]),
                    ["primaryKey"] = Texts(table.Key),
                },
            };
        });
        IEnumerable<JsonNode> exports = files.Where(f => f.Table is null).Select(export => new JsonObject
        {
            ["name"] = "sites-geojson",
            ["path"] = export.Path,
            ["format"] = "geojson",
            ["mediatype"] = "application/geo+json",
        });
        JsonObject package = new()
        {
            ["name"] = $"decay-atlas-{id}",
            ["id"] = id,
            ["title"] = statement.Title,
            ["version"] = id,
            ["profile"] = "data-package",
            ["description"] = Description,
            ["licenses"] = new JsonArray([.. statement.Licences.Select(l => (JsonNode)new JsonObject { ["name"] = l })]),
            ["publisher"] = statement.Publisher,
            ["software"] = Software + statement.SoftwareVersion,
            ["settings"] = JsonNode.Parse(statement.Settings),
            ["resources"] = new JsonArray([.. tables, .. exports]),
        };
        if (statement.Citation is { } citation)
            package[CitationKey] = citation.Said.DeepClone();
        return package.ToJsonString(JsonText.Options) + "\n";
    }

    /// <summary>A citation in the Citation File Format, version 1.2.0: what the curator's file says, and what this release is.</summary>
    /// <remarks>Licences in a list there stand for a choice between them (a remark in its schema), which those of several contributions
    /// are not: only one that all have is named.</remarks>
    public static string Citation(string id, ReleaseStatement statement)
    {
        JsonObject citation = new()
        {
            ["cff-version"] = "1.2.0",
            ["message"] = "If you use these data, please cite them by release.",
            ["type"] = "dataset",
            ["title"] = statement.Title,
            ["version"] = id,
        };
        foreach ((string key, JsonNode? value) in statement.Citation?.Said ?? [])
            citation[key] = value?.DeepClone();
        if (!citation.ContainsKey("authors"))
            citation["authors"] = new JsonArray(new JsonObject { ["name"] = statement.Publisher });
        if (statement.Licences is [var only] && OpenLicence.Known(only) is { } licence)
            citation[licence.IsInCitations ? "license" : "license-url"] = licence.IsInCitations ? licence.Id : licence.Iri;
        return YamlText.Of(citation);
    }

    /// <summary>One line a file, in the form that <c>sha256sum --check</c> reads.</summary>
    public static string Checksums(IEnumerable<(string Path, string Sha256)> files) =>
        string.Concat(files.OrderBy(f => f.Path, StringComparer.Ordinal).Select(f => $"{f.Sha256}  {f.Path}\n"));

    private static JsonArray Texts(IEnumerable<string> texts) => new([.. texts.Select(t => (JsonNode)t)]);

    private static JsonNode FieldOf(ColumnInfo column)
    {
        JsonObject field = new() { ["name"] = column.Name, ["type"] = column.Type, ["description"] = column.Description };
        if (column.Unit is not null)
            field["unit"] = column.Unit;
        return field;
    }
}
