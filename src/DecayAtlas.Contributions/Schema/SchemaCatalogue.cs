using System.Reflection;
using System.Text;
using System.Text.Json;
using Json.Schema;

namespace DecayAtlas.Contributions.Schema;

/// <summary>
/// The open schema, version 1: the documents in schemas/v1, read once from the assembly. Whoever writes
/// contributions takes the column order from here; whoever reads them is checked against it.
/// </summary>
public static class SchemaCatalogue
{
    /// <summary>The value of <c>profile</c> in the descriptor of a contribution of this version.</summary>
    public const string Profile = "decayatlas-contribution-1";

    private static readonly Lazy<IReadOnlyList<TableSchema>> LoadedTables =
        new(() => [.. new[] { "sites", "lots", "bags", "results", "samples" }.Select(name => TableSchemaDocument.Parse(Text(name)))]);

    private static readonly Lazy<JsonSchema> LoadedDescriptor = new(() => JsonSchema.FromText(Text("contribution")));

    /// <summary>The tables; a table comes after every table that it refers to.</summary>
    public static IReadOnlyList<TableSchema> Tables => LoadedTables.Value;

    public static TableSchema Sites => Tables[0];

    public static TableSchema Lots => Tables[1];

    public static TableSchema Bags => Tables[2];

    public static TableSchema Results => Tables[3];

    public static TableSchema Samples => Tables[4];

    /// <summary>Tables that may be there without a row.</summary>
    internal static bool MayBeEmpty(TableSchema table) => table == Results || table == Samples;

    public const string DescriptorName = "datapackage.json";

    /// <summary>Whether a file is called as the schema calls it, and not as its sender likes.</summary>
    internal static bool IsFileName(string file) =>
        file == DescriptorName || Tables.Any(table => file == table.Name + ".csv");

    /// <summary>The JSON Schema of the descriptor as it is written.</summary>
    internal static JsonElement DescriptorDocument { get; } = JsonDocument.Parse(Text("contribution")).RootElement;

    internal static JsonSchema Descriptor => LoadedDescriptor.Value;

    /// <summary>The text of one schema document: sites, lots, bags, results, samples or contribution.</summary>
    public static string Text(string name)
    {
        string resource = $"schemas/v1/{name}.json";
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(resource)
            ?? throw new ArgumentException($"There is no schema document {resource}.", nameof(name));
        using StreamReader reader = new(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
