using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Schema;

/// <summary>Gives the fields of a Table Schema document the concepts of their words. Table Schema lets a field have properties of our own;
/// its <c>categories</c> would close the field to other words.</summary>
public static class SchemaConcepts
{
    private static readonly JsonSerializerOptions Form = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The document with the concepts that <see cref="Vocabulary"/> has now, wherever a field names a list of it.</summary>
    public static string Of(string document)
    {
        JsonNode root = JsonNode.Parse(document)!;
        foreach (JsonObject words in root["fields"]!.AsArray().Select(field => field!["vocabulary"]).OfType<JsonObject>())
        {
            words["closeMatch"] = new JsonObject(Vocabulary.Of((string)words["list"]!).Words.Select(word => KeyValuePair.Create(
                word.Word, (JsonNode?)new JsonArray([.. word.CloseMatches.Where(c => c.Iri is not null)
                    .Select(c => JsonValue.Create(c.Iri!.AbsoluteUri))]))));
        }

        return root.ToJsonString(Form) + "\n";
    }
}
