using System.Text.Json;
using System.Text.Json.Nodes;
using YamlDotNet.Serialization;

namespace DecayAtlas.Text.Documents;

/// <summary>JSON as YAML, block by block, so that a person reads it; keys in their order, line feeds, quotes only where a text would pass
/// for something else.</summary>
public static class YamlText
{
    private static readonly ISerializer Writer = new SerializerBuilder().WithQuotingNecessaryStrings().WithNewLine("\n").Build();

    public static string Of(JsonObject document) => Writer.Serialize(Plain(document)!);

    private static object? Plain(JsonNode? node) => node switch
    {
        JsonObject mapping => mapping.ToDictionary(pair => pair.Key, pair => Plain(pair.Value)),
        JsonArray list => list.Select(Plain).ToList(),
        null => null,
        _ => node.GetValueKind() switch
        {
            JsonValueKind.String => node.GetValue<string>(),
            JsonValueKind.Number => node.GetValue<double>(),
            _ => node.GetValue<bool>(),
        },
    };
}
