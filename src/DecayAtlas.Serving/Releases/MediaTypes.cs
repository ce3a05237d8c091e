using System.Collections.Frozen;

namespace DecayAtlas.Serving.Releases;

/// <summary>Media types by the ending of a file, as registered with IANA; those marked are common practice and not registered.</summary>
internal static class MediaTypes
{
    private static readonly FrozenDictionary<string, string> ByEnding = new Dictionary<string, string>
    {
        [".parquet"] = "application/vnd.apache.parquet",
        [".geojson"] = "application/geo+json",   // RFC 7946
        [".json"] = "application/json",
        [".csv"] = "text/csv; charset=utf-8",   // RFC 4180
        [".tif"] = "image/tiff",   // RFC 3302
        [".nc"] = "application/x-netcdf",   // not registered
        [".png"] = "image/png",
        [".svg"] = "image/svg+xml",
        [".html"] = "text/html; charset=utf-8",
        [".css"] = "text/css; charset=utf-8",
        [".js"] = "text/javascript; charset=utf-8",   // RFC 9239
        [".md"] = "text/markdown; charset=utf-8",   // RFC 7763
        [".txt"] = "text/plain; charset=utf-8",
        [".cff"] = "text/plain; charset=utf-8",   // YAML that people read
        [".sha256"] = "text/plain; charset=utf-8",
        [".zip"] = "application/zip",
        [".xlsx"] = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        [".gpkg"] = "application/geopackage+sqlite3",
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    /// <summary>What pages and answers are made of: sent packed where a reader takes that. Files of data go out as they are.</summary>
    public static IReadOnlyList<string> Packed { get; } =
    [
        "text/html", "text/css", "text/javascript", "image/svg+xml", "text/markdown", "text/csv", "application/json",
        "application/geo+json",
    ];

    public static string Of(string path) => ByEnding.GetValueOrDefault(Path.GetExtension(path), "application/octet-stream");

    public static bool IsPacked(string mediaType) => Packed.Any(p => mediaType.StartsWith(p, StringComparison.Ordinal));
}
