using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Atlas.Mapped;

/// <summary>RFC 7946, for any map program: each site with k and S, their intervals and its use. A site without a public place has no
/// geometry.</summary>
public static class SiteGeoJson
{
    public const string FileName = "sites.geojson";

    private static readonly JsonSerializerOptions Options = new(JsonText.Options)
    {
        WriteIndented = false,
        Converters = { new GeoJsonConverterFactory() }
    };

    public static void Write(Stream stream, IReadOnlyList<ReleasedSite> sites, IEnumerable<ReleasedSiteCampaign> campaigns)
    {
        MappedColumns results = new(campaigns);
        FeatureCollection features = new();
        foreach (ReleasedSite site in sites.OrderBy(s => s.SiteKey, StringComparer.Ordinal))
        {
            AttributesTable attributes = new()
            {
                { Name(nameof(site.SiteKey)), site.SiteKey },
                { Name(nameof(site.Ecosystem)), site.Ecosystem },
                { Name(nameof(site.LandUse)), site.LandUse },
                { Name(nameof(site.Management)), site.Management },
                { Name(nameof(site.CoordinateUncertaintyMetres)), site.CoordinateUncertaintyMetres },
                { Name(nameof(site.IsGeneralised)), site.IsGeneralised },
                { Name(nameof(site.Use)), site.Use },
            };
            foreach ((ColumnInfo info, object? value) in MappedColumns.Infos.Zip(results.Of(site.SiteKey)))
                attributes.Add(info.Name, value is ExportedNumber number ? number.Rounded : value);
            features.Add(new Feature(SitePoint.Of(site), attributes));
        }

        JsonSerializer.Serialize(stream, features, Options);
    }

    private static string Name(string property) => AtlasTables.Sites.NameOf(property);
}
