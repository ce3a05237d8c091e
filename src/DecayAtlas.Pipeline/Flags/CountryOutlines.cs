using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.Converters;
using NetTopologySuite.Operation.Distance;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>Outlines of countries from a GeoJSON file whose features carry <c>country_code</c> (ISO 3166-1 alpha-2).</summary>
public sealed class CountryOutlines
{
    private static readonly JsonSerializerOptions GeoJson = new() { Converters = { new GeoJsonConverterFactory() } };
    private readonly Dictionary<string, Geometry> _byCode;

    private CountryOutlines(Dictionary<string, Geometry> byCode) => _byCode = byCode;

    /// <exception cref="ConfigurationException">The file is missing, or is not such a GeoJSON file.</exception>
    public static CountryOutlines Load(string path)
    {
        try
        {
            using FileStream stream = File.OpenRead(path);
            FeatureCollection features = JsonSerializer.Deserialize<FeatureCollection>(stream, GeoJson) ?? [];
            Dictionary<string, Geometry> byCode = features
                .Where(f => f.Geometry is not null && f.Attributes?.GetOptionalValue("country_code") is string)
                .GroupBy(f => (string)f.Attributes["country_code"], StringComparer.OrdinalIgnoreCase)
                .ToDictionary(g => g.Key, g => g.Select(f => f.Geometry).Aggregate((a, b) => a.Union(b)), StringComparer.OrdinalIgnoreCase);
            return byCode.Count > 0
                ? new CountryOutlines(byCode)
                : throw new ConfigurationException($"{path} has no feature with a property country_code; expected one polygon a "
                + "country with its ISO 3166-1 code.");
        }
        catch (Exception e)
            when (e is IOException or UnauthorizedAccessException or JsonException or ArgumentException or TopologyException)
        {
            throw new ConfigurationException($"{path} can't be read as country outlines in GeoJSON: {e.Message.TrimEnd('.')}.", e);
        }
    }

    public bool Has(string countryCode) => _byCode.ContainsKey(countryCode);

    /// <summary>Ground distance from the point to the country (m), 0 inside; <see langword="null"/> for a country without
    /// outline.</summary>
    public double? DistanceMetres(string countryCode, GeoPoint point)
    {
        if (!_byCode.TryGetValue(countryCode, out Geometry? country))
            return null;
        Point place = new(point.LongitudeDegrees, point.LatitudeDegrees);
        // nearest in degrees, then measured on the ground: close to an outline the two agree well enough for a limit of kilometres
        Coordinate nearest = DistanceOp.NearestPoints(country, place)[0];
        return point.GroundDistanceMetres(new GeoPoint(nearest.X, nearest.Y));
    }
}
