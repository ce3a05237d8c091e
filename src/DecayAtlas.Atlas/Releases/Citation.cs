using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Releases;

/// <summary>What a curator's file in the Citation File Format (version 1.2.0) says of the data over all releases.</summary>
/// <param name="Said">The document, without what each release says of itself.</param>
public sealed record Citation(JsonObject Said)
{
    /// <summary>What a release says of itself, and that a curator's file can't say for it.</summary>
    private static readonly string[] OfReleases = ["cff-version", "type", "title", "version", "commit", "license", "license-url"];

    /// <summary>Of the whole document as it was written, which must be one.</summary>
    public static Citation Of(JsonObject document) =>
        new(new JsonObject(document.Where(pair => !OfReleases.Contains(pair.Key))
            .Select(pair => KeyValuePair.Create(pair.Key, pair.Value?.DeepClone()))));
}
