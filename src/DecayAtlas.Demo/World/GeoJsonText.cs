using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Demo.World;

/// <summary>Features as GeoJSON (RFC 7946).</summary>
internal static class GeoJsonText
{
    private static readonly JsonSerializerOptions Format = new() { Converters = { new GeoJsonConverterFactory() } };

    public static string Of(IEnumerable<Feature> features)
    {
        FeatureCollection collection = [.. features];
        return JsonSerializer.Serialize(collection, Format);
    }
}
