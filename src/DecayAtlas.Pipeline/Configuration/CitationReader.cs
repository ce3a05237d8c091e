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
    /// <exception cref="ConfigurationException">The file is missing or not such a file; the message names file and line of all that is
    /// wrong, since a curator who never wrote one would else mend it one run at a time.</exception>
    public static (Citation Citation, string? Title) Read(string path)
    {
        try
        {
            YamlDocument document = YamlDocument.Open(path, "{}");
            IReadOnlyList<YamlDocumentException> faults =
                [.. document.Faults(SchemaText.Value).Concat(NamesMissing(document)).OrderBy(fault => fault.Line)];
            if (faults.Count > 0)
                throw new ConfigurationException(string.Join('\n', faults.Select(fault => fault.Message)), faults[0]);
            JsonObject said = document.Root.AsObject();
            return (Citation.Of(said), (string?)said["title"]);
        }
        catch (YamlDocumentException fault)
        {
            throw new ConfigurationException(fault.Message, fault);
        }
    }

    private static IEnumerable<YamlDocumentException> NamesMissing(YamlDocument document)
    {
        foreach (string list in new[] { "authors", "contact" })
        {
            foreach ((int i, JsonNode? party) in ((document.Root as JsonObject)?[list] as JsonArray ?? []).Index())
            {
                if (party is JsonObject && !NamedParty.HasName(party))
                {
                    yield return document.At(Invariant($"/{list}/{i}"),
                        $"{list} {i + 1} has no name, expected a person (given-names, family-names) or a body (name).");
                }
            }
        }
    }
}
