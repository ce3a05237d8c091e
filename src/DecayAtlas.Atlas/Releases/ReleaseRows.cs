using System.Text.Json;

namespace DecayAtlas.Atlas.Releases;

/// <summary>How many rows the tables of a release have, as its descriptor says.</summary>
public static class ReleaseRows
{
    /// <summary>The file of a release that describes it.</summary>
    public const string DescriptorName = ReleaseDescriptor.DataPackageName;

    /// <returns>By the names of the tables; a table of a later version is missing.</returns>
    /// <exception cref="KeyNotFoundException">It is no descriptor.</exception>
    public static IReadOnlyDictionary<string, int> In(JsonElement descriptor) => descriptor.GetProperty("resources").EnumerateArray()
        .Where(resource => resource.TryGetProperty("rows", out _)).ToDictionary(
            resource => resource.GetProperty("name").GetString()!, resource => resource.GetProperty("rows").GetInt32());
}
