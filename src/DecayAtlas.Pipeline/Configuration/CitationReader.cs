using System.Reflection;
using System.Text.Json.Nodes;

namespace DecayAtlas.Pipeline.Configuration;

/// <summary>Reads the curator's file in the Citation File Format, version 1.2.0 (schemas/citation-v1.schema.json holds what is taken of
/// it).</summary>
internal static class CitationReader
{
    private static readonly Lazy<string> SchemaText = new(() =>
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("citation-v1.schema.json")!;
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    });

    /// <returns>What it says of all releases, and its title where it has one.</returns>
    /// <exception cref="ConfigurationException">The file is missing or not such a file; the message names file and line.</exception>
    public static (Citation Citation, string? Title) Read(string path)
    {
        try
        {
            YamlDocument document = YamlDocument.Open(path, SchemaText.Value);
            JsonObject said = document.Root.AsObject();
            RequireNames(document, said);
            return (Citation.Of(said), (string?)said["title"]);
        }
        catch (YamlDocumentException fault)
        {
            throw new ConfigurationException(fault.Message, fault);
        }
    }

    private static void RequireNames(YamlDocument document, JsonObject said)
    {
        foreach (string list in new[] { "authors", "contact" })
        {
            foreach ((int i, JsonNode? party) in (said[list] as JsonArray ?? []).Index())
            {
                if (!NamedParty.HasName(party!))
                {
                    throw document.At(Invariant($"/{list}/{i}"),
                        $"{list} {i + 1} has no name, expected a person (given-names, family-names) or a body (name).");
                }
            }
        }
    }
}
