using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Pointer;
using Json.Schema;

namespace DecayAtlas.Text.Documents;

/// <summary>
/// Validates a document against a JSON Schema and says the first failure, in the order of the file, as one sentence.
/// The words of what was expected are the description that the schema gives the value.
/// </summary>
internal static class SchemaCheck
{
    public static void Validate(YamlDocument document, string schemaJson)
    {
        // A registry of its own: the same schema may be built many times in one process.
        JsonSchema schema = JsonSchema.FromText(schemaJson, new BuildOptions { SchemaRegistry = new SchemaRegistry() });
        using JsonDocument instance = JsonDocument.Parse(document.Root.ToJsonString());
        EvaluationResults results = schema.Evaluate(
            instance.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        if (results.IsValid)
            return;

        JsonNode schemaNode = JsonNode.Parse(schemaJson)!;
        Failure? first = Failures(results, schemaNode)
            .OrderBy(failure => document.LineOf(failure.Pointer))
            // The deepest failure is the cause; those above it only say that something below them failed.
            .ThenByDescending(failure => failure.Pointer.Count(c => c == '/'))
            .ThenBy(failure => failure.Pointer, StringComparer.Ordinal)
            .Cast<Failure?>()
            .FirstOrDefault();
        if (first is not { } cause)
            throw document.At("", "the document is not what its schema asks for.");

        throw document.At(cause.Pointer, Sentence(document, cause));
    }

    private static IEnumerable<Failure> Failures(EvaluationResults results, JsonNode schema)
    {
        IEnumerable<EvaluationResults> all = (results.Details ?? []).Prepend(results);
        foreach (EvaluationResults result in all.Where(result => !result.IsValid && result.Errors is { Count: > 0 }))
        {
            string pointer = result.InstanceLocation.ToString();
            JsonNode? at = Find(schema, result.SchemaLocation);
            foreach ((string keyword, string message) in result.Errors!.OrderBy(error => error.Key, StringComparer.Ordinal))
                yield return new Failure(pointer, keyword, message, at);
        }
    }

    private static string Sentence(YamlDocument document, Failure failure)
    {
        string name = failure.Pointer.Length == 0 ? "the document" : JsonPlace.NameOf(failure.Pointer);
        if (failure.IsUnknownKey)
            return $"{name} is not a key of this format; take it out or correct its spelling.";

        string? expected = (string?)failure.Schema?["description"];
        if (failure.Keyword == "required" || expected is null)
            return $"{name}: {failure.Message.TrimEnd('.')}{(expected is null ? "" : $"; expected: {expected.TrimEnd('.')}")}.";

        return $"{name}: found {Found(document, failure.Pointer)}; expected: {expected.TrimEnd('.')}.";
    }

    private static string Found(YamlDocument document, string pointer)
    {
        if (!JsonPointer.TryParse(pointer, out JsonPointer parsed) || !parsed.TryEvaluate(document.Root, out JsonNode? node))
            return "nothing";

        return node switch
        {
            null => "nothing",
            JsonObject => "a mapping",
            JsonArray { Count: 0 } => "an empty list",
            JsonArray => "a list",
            _ => node.ToJsonString() is { Length: <= 80 } text ? text : "a text of more than 80 letters",
        };
    }

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
        /// <summary>A key that additionalProperties: false forbids is judged by the schema "false", which has no keyword.</summary>
        public bool IsUnknownKey => Keyword.Length == 0;
    }
}
