using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Schema;

/// <summary>Reads a Table Schema document. The documents are ours and tested, so a fault in one is a bug and throws.</summary>
internal static class TableSchemaDocument
{
    public static TableSchema Parse(string json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        JsonElement root = document.RootElement;
        return new TableSchema(
            Required(root, "name"),
            Required(root, "title"),
            Required(root, "description"),
            [.. root.GetProperty("fields").EnumerateArray().Select((field, ordinal) => Field(field, ordinal))],
            Strings(root.GetProperty("primaryKey")),
            root.TryGetProperty("foreignKeys", out JsonElement keys) ? [.. keys.EnumerateArray().Select(Key)] : []);
    }

    private static FieldSchema Field(JsonElement field, int ordinal)
    {
        JsonElement rules = field.TryGetProperty("constraints", out JsonElement stated) ? stated : default;
        FieldType type = Required(field, "type") switch
        {
            "string" => FieldType.Text,
            "number" => FieldType.Number,
            "integer" => FieldType.WholeNumber,
            "boolean" => FieldType.YesNo,
            "date" => FieldType.Date,
            string other => throw new NotSupportedException($"Table Schema type {other} is not used by this schema."),
        };
        string? pattern = Optional(rules, "pattern");
        return new FieldSchema(
            ordinal,
            Required(field, "name"),
            type,
            Required(field, "title"),
            Required(field, "description"),
            Optional(field, "unit"),
            Required(field, "example"),
            Optional(field, "rdfType") is { } uri ? new Uri(uri) : null,
            Flag(rules, "required"),
            Flag(rules, "unique"),
            Number(rules, "minimum"),
            Number(rules, "maximum"),
            type == FieldType.Date && Optional(rules, "minimum") is { } day
                ? DateOnly.ParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture)
                : null,
            (int?)Number(rules, "maxLength"),
            pattern,
            // Table Schema patterns are XML Schema expressions: they always cover the whole text.
            pattern is null ? null : new Regex($@"\A(?:{pattern})\z", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking),
            Has(rules, "enum", out JsonElement allowed) ? Strings(allowed) : []);
    }

    private static ForeignKey Key(JsonElement key)
    {
        JsonElement reference = key.GetProperty("reference");
        return new ForeignKey(Required(key, "fields"), Required(reference, "resource"), Required(reference, "fields"));
    }

    private static bool Has(JsonElement element, string name, out JsonElement value)
    {
        value = default;
        return element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out value);
    }

    private static string Required(JsonElement element, string name) =>
        Optional(element, name) ?? throw new InvalidDataException($"A schema document lacks {name}.");

    private static string? Optional(JsonElement element, string name) =>
        Has(element, name, out JsonElement value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;

    private static bool Flag(JsonElement element, string name) =>
        Has(element, name, out JsonElement value) && value.ValueKind == JsonValueKind.True;

    private static double? Number(JsonElement element, string name) =>
        Has(element, name, out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;

    private static string[] Strings(JsonElement element) => element.ValueKind == JsonValueKind.String
        ? [element.GetString()!]
        : [.. element.EnumerateArray().Select(item => item.GetString()!)];
}
