using System.Text.Json.Nodes;

namespace DecayAtlas.Grids.Catalogue;

/// <summary>The covariates that are known, read from a catalogue file (grids.yaml).</summary>
public sealed class GridCatalogue
{
    private static readonly Lazy<string> SchemaDocument = new(ReadSchema);

    private GridCatalogue(IReadOnlyList<CatalogueEntry> entries) => Entries = entries;

    public static string Schema => SchemaDocument.Value;

    public IReadOnlyList<CatalogueEntry> Entries { get; }

    /// <summary>Reads a catalogue; paths in it are relative to its folder. The grids themselves are not opened.</summary>
    /// <exception cref="GridException">The catalogue is absent or wrong; the sentence starts with file:line.</exception>
    /// <param name="remote">What may be read over the network; nothing unless stated.</param>
    public static GridCatalogue Load(string path, RemoteGrids? remote = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            YamlDocument document = YamlDocument.Open(path, Schema);
            JsonArray grids = document.Root["grids"]!.AsArray();
            EntryReader[] readers = [.. grids.Select((_, i) => new EntryReader(document, i, remote ?? RemoteGrids.None))];
            for (int i = 0; i < readers.Length; i++)
            {
                if (readers.Take(i).Any(other => other.Name == readers[i].Name))
                {
                    throw readers[i]
                        .Wrong("name", $"the name {readers[i].Name} is taken by an earlier grid; every grid needs a name of its own.");
                }
            }

            Dictionary<string, CatalogueEntry> known = [];
            foreach (EntryReader reader in readers)
                Read(reader, readers, known, []);

            return new GridCatalogue([.. readers.Select(reader => known[reader.Name])]);
        }
        catch (YamlDocumentException e)
        {
            throw new GridException(e.Message, e);
        }
    }

    /// <summary>Reads an entry after those that it is derived from.</summary>
    private static void Read(EntryReader entry, EntryReader[] all, Dictionary<string, CatalogueEntry> known, IReadOnlyList<string> waiting)
    {
        if (known.ContainsKey(entry.Name))
            return;

        foreach ((string role, string name) in entry.IsDerived ? entry.InputNames : new Dictionary<string, string>())
        {
            if (name == entry.Name || waiting.Contains(name))
            {
                string[] circle = [.. waiting.SkipWhile(w => w != name), entry.Name, name];
                throw entry.Wrong($"inputs/{role}", $"{entry.Name} is derived from itself ({string.Join(" needs ", circle)}); an input "
                    + "must not need what is made from it.");
            }

            EntryReader input = all.FirstOrDefault(e => e.Name == name)
                ?? throw entry.Wrong($"inputs/{role}", $"{entry.Name} takes {name} as {role}, which this catalogue does not have; add "
                + "it or correct the name.");
            Read(input, all, known, [.. waiting, entry.Name]);
        }

        known[entry.Name] = entry.Read(known);
    }

    private static string ReadSchema()
    {
        using Stream stream = typeof(GridCatalogue).Assembly.GetManifestResourceStream("grids-v1.schema.json")!;
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }
}
