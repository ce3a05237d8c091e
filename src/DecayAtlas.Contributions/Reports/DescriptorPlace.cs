using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.Contributions.Reports;

/// <summary>A place in a descriptor that schemas/v1/contribution.json knows.</summary>
public sealed record DescriptorPlace
{
    private static JsonElement Schema => SchemaCatalogue.DescriptorDocument;

    private DescriptorPlace(string place, string meaning) => (Text, Meaning) = (place, meaning);

    /// <summary>A JSON Pointer of names of the schema and of numbers: /licenses/0/name.</summary>
    public string Text { get; }

    /// <summary>What the schema says of it, or of what it lies in.</summary>
    public string Meaning { get; }

    /// <summary>The place of a JSON Pointer; <see langword="null"/> where the schema knows no such place.</summary>
    public static DescriptorPlace? Find(string? text)
    {
        if (text is not ['/', .. string below])
            return null;
        (JsonElement rule, string known, string? meaning) = (Schema, "", null);
        foreach (string segment in below.Split('/'))
        {
            if (rule.Child("items") is var items && items.IsThere()
                && int.TryParse(segment, NumberStyles.None, CultureInfo.InvariantCulture, out int index))
            {
                rule = items.Child("$ref").IsThere() ? Schema.GetProperty("$defs").GetProperty("resource") : items;
                known += Invariant($"/{index}");
            }
            else if (rule.Child("properties") is var properties && properties.IsThere()
                && properties.EnumerateObject().Select(p => p.Name).FirstOrDefault(name => name == segment) is { } name)
            {
                rule = properties.GetProperty(name);
                known += "/" + name;
            }
            else
            {
                return null;
            }
            meaning = rule.TextOf("description") ?? meaning;
        }
        return new DescriptorPlace(known, meaning ?? "");
    }
}
