using System.Text.Json;

namespace DecayAtlas.Atlas;

/// <summary>How the values of an enumeration are spelled in tables, records and messages: kebab case.</summary>
public static class AtlasCode
{
    public static string Of<T>(T value) where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());
}
