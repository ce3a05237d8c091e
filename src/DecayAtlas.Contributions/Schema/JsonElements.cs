using System.Text.Json;

namespace DecayAtlas.Contributions.Schema;

internal static class JsonElements
{
    /// <summary>A property; of the kind Undefined where there is none, or no object to have it.</summary>
    public static JsonElement Child(this JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out JsonElement value) ? value : default;

    public static bool IsThere(this JsonElement element) => element.ValueKind != JsonValueKind.Undefined;

    public static string? TextOf(this JsonElement element, string name) =>
        element.Child(name) is { ValueKind: JsonValueKind.String } value ? value.GetString() : null;
}
