using System.Text.Json;
using DecayAtlas.Atlas.Storage;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Atlas.Releases;

/// <summary>The sites as a GeoJSON feature collection (RFC 7946), for any map program.</summary>
public static class SiteGeoJson
{
    public const string FileName = "sites.geojson";

    private static readonly JsonSerializerOptions Options = new(JsonText.Options) { WriteIndented = false, Converters = { new GeoJsonConverterFactory() } };

    /// <summary>Writes the export from site parts, in order of the site key.</summary>
    public static void Write(Stream stream, IEnumerable<string> siteParts)
    {
        var found = new List<(string Key, Feature Feature)>();
        foreach (string part in siteParts)
        {
            var columns = new ParquetColumns([part]);
            string?[] keys = columns.Text("site_key"), ecosystem = columns.Text("ecosystem"), landUse = columns.Text("land_use");
            string?[] management = columns.Text("management"), use = columns.Text("use");
            double?[] latitude = columns.Number("decimal_latitude"), longitude = columns.Number("decimal_longitude"), uncertainty = columns.Number("coordinate_uncertainty_m");
            bool?[] generalised = columns.YesNo("coordinates_generalised");
            for (int i = 0; i < keys.Length; i++)
            {
                Point? point = latitude[i] is { } y && longitude[i] is { } x ? new Point(x, y) : null;
                found.Add((keys[i]!, new Feature(point, new AttributesTable
                {
                    { "site_key", keys[i] },
                    { "ecosystem", ecosystem[i] },
                    { "land_use", landUse[i] },
                    { "management", management[i] },
                    { "coordinate_uncertainty_m", uncertainty[i] },
                    { "coordinates_generalised", generalised[i] },
                    { "use", use[i] },
                })));
            }
        }

        var features = new FeatureCollection();
        foreach ((_, Feature feature) in found.OrderBy(f => f.Key, StringComparer.Ordinal))
            features.Add(feature);
        JsonSerializer.Serialize(stream, features, Options);
    }
}
