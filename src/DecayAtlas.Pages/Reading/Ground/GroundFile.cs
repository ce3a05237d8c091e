using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Pages.Reading.Ground;

/// <summary>A GeoJSON file (RFC 7946) of the user's, of which a map shows something.</summary>
internal static class GroundFile
{
    private static readonly JsonSerializerOptions GeoJson = new() { Converters = { new GeoJsonConverterFactory() } };

    /// <param name="of">What is made of its features.</param>
    /// <param name="readAs">What is looked for in it.</param>
    /// <param name="setting">What names the file, for who has to mend it.</param>
    /// <exception cref="PagesException">The file can't be read.</exception>
    public static IReadOnlyList<T> Read<T>(string path, Func<FeatureCollection, IReadOnlyList<T>> of, string readAs, string setting)
    {
        try
        {
            using FileStream stream = File.OpenRead(path);
            return of(JsonSerializer.Deserialize<FeatureCollection>(stream, GeoJson) ?? []);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or ArgumentException)
        {
            throw new PagesException(
                $"{path} can't be read as {readAs} in GeoJSON: {e.Message.TrimEnd('.')}; correct {setting} in the configuration.", e);
        }
    }
}
