using System.Text;
using System.Text.Json;

namespace DecayAtlas.Questions.Predictions;

/// <summary>A GeoJSON file of features (RFC 7946), one line.</summary>
internal static class GeoJsonFeatures
{
    /// <param name="geometryOf">Writes one value.</param>
    /// <param name="propertiesOf">Writes the members of the object.</param>
    public static void Write<T>(Stream stream, IEnumerable<T> features, Action<Utf8JsonWriter, T> geometryOf,
        Action<Utf8JsonWriter, T> propertiesOf)
    {
        using Utf8JsonWriter json = new(stream, new JsonWriterOptions { Indented = false });
        json.WriteStartObject();
        json.WriteString("type", "FeatureCollection");
        json.WriteStartArray("features");
        foreach (T feature in features)
        {
            json.WriteStartObject();
            json.WriteString("type", "Feature");
            json.WritePropertyName("geometry");
            geometryOf(json, feature);
            json.WriteStartObject("properties");
            propertiesOf(json, feature);
            json.WriteEndObject();
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
        json.Flush();
        stream.Write(Encoding.UTF8.GetBytes("\n"));
    }
}
