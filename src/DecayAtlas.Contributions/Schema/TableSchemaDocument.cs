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
        return new TableSchema(Required(root, "name"), Required(root, "title"), Required(root, "description"),
            [.. root.GetProperty("fields").EnumerateArray().Select((field, ordinal) => Field(field, ordinal))],
            Strings(root.GetProperty("primaryKey")),
            root.Child("foreignKeys") is var keys && keys.IsThere() ? [.. keys.EnumerateArray().Select(Key)] : []);
    }

    private static FieldSchema Field(JsonElement field, int ordinal)
    {
        JsonElement rules = field.Child("constraints");
        FieldType type = Required(field, "type") switch
        {
            "string" => FieldType.Text,
            "number" => FieldType.Number,
            "integer" => FieldType.WholeNumber,
            "boolean" => FieldType.YesNo,
            "date" => FieldType.Date,
            string other => throw new NotSupportedException($"Table Schema type {other} is not used by this schema."),
        };
        string? pattern = rules.TextOf("pattern");
        return new FieldSchema(ordinal, Required(field, "name"), type, Required(field, "title"), Required(field, "description"),
            field.TextOf("unit"), Required(field, "example"), field.TextOf("rdfType") is { } uri ? new Uri(uri) : null,
            Flag(rules, "required"), Flag(rules, "unique"), Number(rules, "minimum"), Number(rules, "maximum"),
            type == FieldType.Date && rules.TextOf("minimum") is { } day
                ? DateOnly.ParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture)
                : null,
            (int?)Number(rules, "maxLength"),
            pattern,
            // Table Schema patterns are XML Schema expressions: they always cover the whole text.
            pattern is null ? null : new Regex($@"\A(?:{pattern})\z", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking),
            rules.Child("enum") is var allowed && allowed.IsThere() ? Strings(allowed) : [])
        {
            Words = field.Child("vocabulary").TextOf("list") is { } list ? Vocabulary.Of(list) : null,
        };
    }

    private static ForeignKey Key(JsonElement key)
    {
        JsonElement reference = key.GetProperty("reference");
        return new ForeignKey(Required(key, "fields"), Required(reference, "resource"), Required(reference, "fields"));
    }

    private static string Required(JsonElement element, string name) =>
        element.TextOf(name) ?? throw new InvalidDataException($"A schema document lacks {name}.");

    private static bool Flag(JsonElement element, string name) => element.Child(name).ValueKind == JsonValueKind.True;

    private static double? Number(JsonElement element, string name) =>
        element.Child(name) is { ValueKind: JsonValueKind.Number } value ? value.GetDouble() : null;

    private static string[] Strings(JsonElement element) => element.ValueKind == JsonValueKind.String
        ? [element.GetString()!]
        : [.. element.EnumerateArray().Select(item => item.GetString()!)];
}
