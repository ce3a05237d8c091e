using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Pointer;
using Json.Schema;

namespace DecayAtlas.Text.Documents;

/// <summary>
/// Holds a document against a JSON Schema and says each failure, in the order of the file, as one sentence.
/// The words of what was expected are the description that the schema gives the value.
/// </summary>
internal static class SchemaCheck
{
    /// <summary>What is wrong, each place once; empty where nothing is.</summary>
    public static IReadOnlyList<YamlDocumentException> Faults(YamlDocument document, string schemaJson)
    {
        // A registry of its own: the same schema may be built many times in one process.
        JsonSchema schema = JsonSchema.FromText(schemaJson, new BuildOptions { SchemaRegistry = new SchemaRegistry() });
        using JsonDocument instance = JsonDocument.Parse(document.Root.ToJsonString());
        EvaluationResults results = schema.Evaluate(
            instance.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        if (results.IsValid)
            return [];

        JsonNode schemaNode = JsonNode.Parse(schemaJson)!;
        Failure[] all =
        [
            .. Failures(results, schemaNode).OrderBy(failure => document.LineOf(failure.Pointer))
                // The deepest failure is the cause; those above it only say that something below them failed.
                .ThenByDescending(failure => failure.Pointer.Count(c => c == '/'))
                .ThenBy(failure => failure.Pointer, StringComparer.Ordinal),
        ];
        if (all.Length == 0)
            return [document.At("", "the document is not what its schema asks for.")];
        // a required key that is missing is wrong where it should be, whatever else is wrong below
        return
        [
            .. all.Where((failure, i) => i == 0 || failure.Keyword == "required" || !all.Any(other => other.Pointer.StartsWith(
                    failure.Pointer + "/", StringComparison.Ordinal)))
                .DistinctBy(failure => failure.Pointer).Select(failure => document.At(failure.Pointer, Sentence(document, failure))),
        ];
    }

    private static IEnumerable<Failure> Failures(EvaluationResults results, JsonNode schema)
    {
        IEnumerable<EvaluationResults> all = (results.Details ?? []).Prepend(results);
        foreach (EvaluationResults result in all.Where(result => !result.IsValid && result.Errors is { Count: > 0 }))
        {
            string pointer = result.InstanceLocation.ToString();
            JsonNode? at = Find(schema, result.SchemaLocation);
            foreach ((string keyword, string message) in result.Errors!.OrderBy(error => error.Key, StringComparer.Ordinal))
                yield return new Failure(pointer, keyword, message, at) { Keys = keyword.Length == 0 ? KeysAt(schema, pointer) : [] };
        }
    }

    /// <summary>The keys that the schema knows where one stands that it does not.</summary>
    private static string[] KeysAt(JsonNode schema, string pointer)
    {
        JsonObject? at = schema as JsonObject;
        foreach (string segment in pointer.Split('/').Skip(1).SkipLast(1))
        {
            // below a key that is not known nothing is
            at = (at?["properties"] as JsonObject)?[segment] as JsonObject ?? at?["items"] as JsonObject
                ?? at?["additionalProperties"] as JsonObject;
            if ((string?)at?["$ref"] is ['#', .. string place] && JsonPointer.TryParse(place, out JsonPointer to))
                at = to.TryEvaluate(schema, out JsonNode? node) ? node as JsonObject : null;
        }

        return at?["properties"] is JsonObject keys ? [.. keys.Select(key => key.Key)] : [];
    }

    private static string Sentence(YamlDocument document, Failure failure)
    {
        string name = failure.Pointer.Length == 0 ? "the document" : JsonPlace.NameOf(failure.Pointer);
        if (failure.IsUnknownKey)
        {
            string? near = Nearest.Of(LastOf(failure.Pointer), failure.Keys);
            return $"{name} is not a key of this format; "
                + (near is null ? "take it out or correct its spelling." : $"did you mean {near}?");
        }

        string? expected = (string?)failure.Schema?["description"];
        if (failure.Keyword == "required" || expected is null)
            return $"{name}: {failure.Message.TrimEnd('.')}{(expected is null ? "" : $"; expected: {expected.TrimEnd('.')}")}.";

        return $"{name}: found {Found(document, failure.Pointer)}; expected: {expected.TrimEnd('.')}.{Meant(document, failure)}";
    }

    private static string LastOf(string pointer) => pointer[(pointer.LastIndexOf('/') + 1)..]
        .Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal);

    // of few words one is meant
    private static string Meant(YamlDocument document, Failure failure) =>
        failure.Schema?["enum"] is JsonArray words && At(document, failure.Pointer) is JsonValue value
        && value.TryGetValue(out string? text)
            ? Nearest.Question(text, words.Select(word => word?.GetValueKind() == JsonValueKind.String ? (string)word! : "")) : "";

    private static string Found(YamlDocument document, string pointer)
    {
        return At(document, pointer) switch
        {
            null => "nothing",
            JsonObject => "a mapping",
            JsonArray { Count: 0 } => "an empty list",
            JsonArray => "a list",
            var node => node.ToJsonString() is { Length: <= 80 } text ? text : "a text of more than 80 letters",
        };
    }

    private static JsonNode? At(YamlDocument document, string pointer) =>
        JsonPointer.TryParse(pointer, out JsonPointer parsed) && parsed.TryEvaluate(document.Root, out JsonNode? node) ? node : null;

    private static JsonNode? Find(JsonNode schema, Uri location)
    {
        string fragment = Uri.UnescapeDataString(location.Fragment.TrimStart('#'));
        return At(fragment) ?? At(WithoutRepeats(fragment));

        JsonNode? At(string place) =>
            JsonPointer.TryParse(place, out JsonPointer pointer) && pointer.TryEvaluate(schema, out JsonNode? node) ? node : null;
    }

    // the library names the list once more below "items", where the schema of its items stands: groups/items/groups for groups/items
    private static string WithoutRepeats(string fragment)
    {
        string[] parts = fragment.Split('/');
        return string.Join('/', parts.Where((part, i) => i < 2 || parts[i - 1] != "items" || part != parts[i - 2]));
    }

    private readonly record struct Failure(string Pointer, string Keyword, string Message, JsonNode? Schema)
    {
        /// <summary>Of a key that is not known, those that are.</summary>
        public IReadOnlyList<string> Keys { get; init; } = [];

        /// <summary>A key that additionalProperties: false forbids is judged by the schema "false", which has no keyword.</summary>
        public bool IsUnknownKey => Keyword.Length == 0;
    }
}
