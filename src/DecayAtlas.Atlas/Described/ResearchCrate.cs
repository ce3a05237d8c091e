using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Described;

/// <summary>The metadata file of a folder by RO-Crate 1.3: one flat list of what the folder is, who made it, and its files.</summary>
/// <remarks>The root must have a name, a description, a day of publication and a licence.</remarks>
public static class ResearchCrate
{
    public const string FileName = "ro-crate-metadata.json";

    private const string Version = "https://w3id.org/ro/crate/1.3", Root = "./";

    /// <param name="files">Of the folder, by their paths in it.</param>
    public static string Of(ReleaseDescription release, IEnumerable<DescribedFile> files)
    {
        DescribedFile[] held = [.. files];
        JsonArray graph = [];
        Dictionary<string, int> counts = [];
        HashSet<string> there = [];
        JsonObject descriptor = SchemaOrgDataset.Entity("CreativeWork", ("@id", FileName));
        descriptor["conformsTo"] = Reference(Version);
        descriptor["about"] = Reference(Root);
        graph.Add(descriptor);

        JsonObject root = SchemaOrgDataset.Described(release);
        root["@id"] = Root;
        root["hasPart"] = new JsonArray([.. held.Select(f => Reference(Uri.EscapeDataString(f.Address)))]);
        graph.Add(Flat(root));
        foreach (DescribedFile file in held)
        {
            graph.Add(SchemaOrgDataset.Entity("File", ("@id", Uri.EscapeDataString(file.Address)), ("name", file.Address),
                ("description", file.Meaning), ("encodingFormat", file.Format), ("contentSize", file.Bytes?.ToString(InvariantCulture)),
                ("sha256", file.Sha256)));
        }

        return new JsonObject { ["@context"] = Version + "/context", ["@graph"] = graph }.ToJsonString(JsonText.Options) + "\n";

        JsonObject Flat(JsonObject entity) =>
            new(entity.Select(pair => KeyValuePair.Create(pair.Key, pair.Value switch
            {
                JsonObject inner => Apart(inner),
                JsonArray list => new JsonArray([.. list.Select(item => item is JsonObject inner ? Apart(inner) : item?.DeepClone())]),
                _ => pair.Value?.DeepClone(),
            })));

        // what stood within another stands beside it, by a name of its own
        JsonNode Apart(JsonObject inner)
        {
            if (!inner.ContainsKey("@type"))
                return inner.DeepClone();
            string type = (string)inner["@type"]!, id = (string?)inner["@id"] ?? Named();
            if (there.Add(id))
            {
                JsonObject own = new() { ["@id"] = id };
                foreach ((string key, JsonNode? value) in Flat(inner))
                    own[key] = value?.DeepClone();
                graph.Add(own);
            }
            return Reference(id);

            string Named()
            {
                counts[type] = counts.GetValueOrDefault(type) + 1;
                return Invariant($"#{type.ToLowerInvariant()}-{counts[type]}");
            }
        }

        static JsonObject Reference(string id) => new() { ["@id"] = id };
    }
}
