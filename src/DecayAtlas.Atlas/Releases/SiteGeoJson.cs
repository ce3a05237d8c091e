using System.Text.Json;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Tables;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Atlas.Releases;

/// <summary>The sites as a GeoJSON feature collection (RFC 7946), for any map program.</summary>
public static class SiteGeoJson
{
    private static readonly JsonSerializerOptions Options = new(JsonText.Options) { WriteIndented = false, Converters = { new GeoJsonConverterFactory() } };

    public static void Write(Stream stream, IEnumerable<Released<Site>> sites)
    {
        var features = new FeatureCollection();
        foreach (Released<Site> site in sites)
        {
            Point? point = site.Place is { LongitudeDegrees: { } longitude, LatitudeDegrees: { } latitude } ? new Point(longitude, latitude) : null;
            features.Add(new Feature(point, new AttributesTable
            {
                { "site_key", site.Record.Key },
                { "ecosystem", site.Record.Row.Ecosystem },
                { "land_use", site.Record.Row.LandUse },
                { "management", site.Record.Row.Management },
                { "coordinate_uncertainty_m", site.Place.UncertaintyMetres },
                { "coordinates_generalised", site.Place.IsGeneralised },
                { "use", AtlasCode.Of(site.Verdict.Use) },
            }));
        }

        JsonSerializer.Serialize(stream, features, Options);
    }
}
