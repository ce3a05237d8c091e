using System.Collections.Concurrent;
using System.Text.Json;

namespace DecayAtlas.Serving.Following;

/// <summary>What a list says of a release: its title, the day on which it was published here, and how much there is in it.</summary>
internal sealed record ReleaseFacts(string? Title, DateOnly PublishedOn, int? Contributions, int? Sites, int? Burials)
{
    /// <summary>Releases never change, so that each is read once.</summary>
    private static readonly ConcurrentDictionary<string, ReleaseFacts> Known = new(StringComparer.Ordinal);

    public string Day => $"{PublishedOn:O}";

    /// <exception cref="IOException">The release is gone.</exception>
    public static ReleaseFacts Of(string folder) => Known.GetOrAdd(folder, Read);

    private static ReleaseFacts Read(string folder)
    {
        string path = Path.Combine(folder, ReleaseRows.DescriptorName);
        using JsonDocument descriptor = JsonDocument.Parse(File.ReadAllBytes(path));
        JsonElement root = descriptor.RootElement;
        IReadOnlyDictionary<string, int> rows = ReleaseRows.In(root);
        return new ReleaseFacts(root.TryGetProperty("title", out JsonElement title) ? title.GetString() : null,
            DateOnly.FromDateTime(File.GetLastWriteTimeUtc(path)), In(AtlasTables.Contributions), In(AtlasTables.Sites),
            In(AtlasTables.Burials));

        int? In(Table table) => rows.TryGetValue(table.Name, out int count) ? count : null;
    }
}
