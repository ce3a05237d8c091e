using System.Text.Json;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Tables;

namespace DecayAtlas.Atlas.Releases;

/// <summary>
/// The <c>geo</c> metadata that makes the sites table GeoParquet. Source: GeoParquet specification 1.1.0;
/// without a <c>crs</c> member the coordinates are longitude and latitude on WGS 84 (OGC:CRS84).
/// </summary>
public static class GeoParquet
{
    public static string Metadata(ReadOnlySpan<Released<Site>> sites)
    {
        double west = double.PositiveInfinity, south = double.PositiveInfinity;
        double east = double.NegativeInfinity, north = double.NegativeInfinity;
        foreach (Released<Site> site in sites)
        {
            if (site.Place is { LongitudeDegrees: { } longitude, LatitudeDegrees: { } latitude })
            {
                (west, east) = (Math.Min(west, longitude), Math.Max(east, longitude));
                (south, north) = (Math.Min(south, latitude), Math.Max(north, latitude));
            }
        }

        var geometry = new Dictionary<string, object>
        {
            ["encoding"] = "WKB",
            ["geometry_types"] = west <= east ? new[] { "Point" } : [],
        };
        if (west <= east)
            geometry["bbox"] = new[] { west, south, east, north };
        return JsonSerializer.Serialize(new Dictionary<string, object>
        {
            ["version"] = "1.1.0",
            ["primary_column"] = "geometry",
            ["columns"] = new Dictionary<string, object> { ["geometry"] = geometry },
        });
    }
}
