using System.Text.Json.Nodes;
using DecayAtlas.Text;

namespace DecayAtlas.Grids;

/// <summary>The covariates that are known, read from a catalogue file (grids.yaml).</summary>
public sealed class GridCatalogue
{
    private static readonly Lazy<string> s_schema = new(ReadSchema);

    private GridCatalogue(IReadOnlyList<CatalogueEntry> entries) => Entries = entries;

    /// <summary>The JSON Schema of the catalogue file, version 1.</summary>
    public static string Schema => s_schema.Value;

    /// <summary>The covariates in the order of the file.</summary>
    public IReadOnlyList<CatalogueEntry> Entries { get; }

    /// <summary>Reads a catalogue; paths in it are relative to its folder. The grids themselves are not opened.</summary>
    /// <exception cref="GridException">The catalogue is absent or wrong; the sentence starts with file:line.</exception>
    public static GridCatalogue Load(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            YamlDocument document = YamlDocument.Open(path, Schema);
            JsonArray grids = document.Root["grids"]!.AsArray();
            List<CatalogueEntry> entries = [];
            for (int i = 0; i < grids.Count; i++)
            {
                CatalogueEntry entry = Entry(path, grids[i]!);
                if (entry is { IsClass: true, Rule: SamplingRule.Bilinear or SamplingRule.Disc })
                {
                    throw document.At(
                        $"/grids/{i}/rule",
                        $"{entry.Name} is of kind class and has rule {(string)grids[i]!["rule"]!}; classes are never interpolated, so write rule: nearest or rule: mode.");
                }

                if (entry is { IsClass: false, Rule: SamplingRule.Mode })
                {
                    throw document.At(
                        $"/grids/{i}/rule",
                        $"{entry.Name} is of kind continuous and has rule mode, which is for classes; write rule: disc.");
                }

                if (entries.Any(other => other.Name == entry.Name))
                {
                    throw document.At($"/grids/{i}/name", $"the name {entry.Name} is taken by an earlier grid; every grid needs a name of its own.");
                }

                if (entry.Scale == 0)
                {
                    throw document.At($"/grids/{i}/scale", $"{entry.Name} has scale 0, which would make every value the offset; leave it out or state the factor.");
                }

                entries.Add(entry);
            }

            return new GridCatalogue(entries);
        }
        catch (YamlDocumentException e)
        {
            throw new GridException(e.Message, e);
        }
    }

    private static CatalogueEntry Entry(string cataloguePath, JsonNode grid) => new(
        (string)grid["name"]!,
        (string)grid["title"]!,
        Path.Combine(Path.GetDirectoryName(Path.GetFullPath(cataloguePath))!, (string)grid["file"]!),
        (int?)Number(grid, "band") ?? 1,
        (string)grid["unit"]!,
        Enum.Parse<SamplingRule>((string)grid["rule"]!, ignoreCase: true),
        (string)grid["kind"]! == "class",
        Number(grid, "valid_within_m"),
        Number(grid, "scale"),
        Number(grid, "offset"),
        Number(grid, "missing"),
        (string?)grid["source"],
        (string?)grid["crs"],
        (string?)grid["variable"],
        grid["select"]?.AsObject().ToDictionary(step => step.Key, step => step.Value!.ToString()));

    // A number may have been written as a whole number or as a fraction.
    private static double? Number(JsonNode grid, string key) => grid[key] switch
    {
        null => null,
        JsonValue value when value.TryGetValue(out long whole) => whole,
        JsonNode value => (double)value,
    };

    private static string ReadSchema()
    {
        using Stream stream = typeof(GridCatalogue).Assembly.GetManifestResourceStream("grids-v1.schema.json")!;
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }
}
