using System.Text.Json;

namespace DecayAtlas.Atlas.Schema;

/// <summary>
/// The <c>geo</c> metadata that makes the sites table GeoParquet. Source: GeoParquet specification 1.1.0;
/// without a <c>crs</c> member the coordinates are longitude and latitude on WGS 84 (OGC:CRS84).
/// </summary>
internal static class GeoParquet
{
    public const string Key = "geo";

    public static string Metadata(PlainValues<double> longitudes, PlainValues<double> latitudes)
    {
        double west = double.PositiveInfinity, south = double.PositiveInfinity;
        double east = double.NegativeInfinity, north = double.NegativeInfinity;
        for (int i = 0; i < longitudes.Count; i++)
        {
            if (longitudes.Present[i] && latitudes.Present[i])
            {
                (west, east) = (Math.Min(west, longitudes.Values[i]), Math.Max(east, longitudes.Values[i]));
                (south, north) = (Math.Min(south, latitudes.Values[i]), Math.Max(north, latitudes.Values[i]));
            }
        }

        Dictionary<string, object> geometry = new()
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
