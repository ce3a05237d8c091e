using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Atlas.Releases;

/// <summary>RFC 7946, for any map program.</summary>
public static class SiteGeoJson
{
    public const string FileName = "sites.geojson";

    private static readonly JsonSerializerOptions Options = new(JsonText.Options)
    {
        WriteIndented = false,
        Converters = { new GeoJsonConverterFactory() }
    };

    public static void Write(Stream stream, IReadOnlyList<ReleasedSite> sites)
    {
        FeatureCollection features = new();
        foreach (ReleasedSite site in sites.OrderBy(s => s.SiteKey, StringComparer.Ordinal))
        {
            features.Add(new Feature(
                site is { LatitudeDegrees: { } y, LongitudeDegrees: { } x } ? new Point(x, y) : null,
                new AttributesTable
                {
                    { Name(nameof(site.SiteKey)), site.SiteKey },
                    { Name(nameof(site.Ecosystem)), site.Ecosystem },
                    { Name(nameof(site.LandUse)), site.LandUse },
                    { Name(nameof(site.Management)), site.Management },
                    { Name(nameof(site.CoordinateUncertaintyMetres)), site.CoordinateUncertaintyMetres },
                    { Name(nameof(site.IsGeneralised)), site.IsGeneralised },
                    { Name(nameof(site.Use)), site.Use },
                }));
        }

        JsonSerializer.Serialize(stream, features, Options);
    }

    private static string Name(string property) => AtlasTables.Sites.NameOf(property);
}
