using System.Text.Json;

namespace DecayAtlas.Atlas;

/// <summary>How the values of an enumeration are spelled in tables, records and messages: kebab case.</summary>
public static class AtlasCode
{
    public static string Of<T>(T value) where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());

    /// <summary>The value that a code stands for; missing where there is no code.</summary>
    /// <exception cref="AtlasException">No value is spelled so.</exception>
    public static T? Parse<T>(string? code) where T : struct, Enum => code is null ? null
        : Spelled<T>.Values.TryGetValue(code, out T value) ? value
        : throw new AtlasException($"A table of the release has {code} where one of {string.Join(", ", Spelled<T>.Values.Keys)} is "
            + "expected; use the version that published it.");

    private static class Spelled<T> where T : struct, Enum
    {
        public static readonly Dictionary<string, T> Values = Enum.GetValues<T>().ToDictionary(Of, StringComparer.Ordinal);
    }
}
