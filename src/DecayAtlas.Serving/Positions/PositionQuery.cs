using System.Globalization;
using Microsoft.Extensions.Primitives;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO;

namespace DecayAtlas.Serving.Positions;

/// <summary>What a position query of OGC API - Environmental Data Retrieval asks for (OGC 19-086r6, 8.2.4; from memory).</summary>
/// <param name="Season">Days of burial and retrieval; the configuration's own where none are named.</param>
/// <param name="Names">Of the parameters that are asked for; missing for all.</param>
/// <param name="IsGeoJson">Rather than CoverageJSON.</param>
internal sealed record PositionQuery(
    double Longitude, double Latitude, (DateOnly Buried, DateOnly Retrieved)? Season, IReadOnlyList<string>? Names, bool IsGeoJson)
{
    public const string CoverageJson = "CoverageJSON", GeoJson = "GeoJSON";

    private static readonly string[] Known = ["coords", "parameter-name", "datetime", "crs", "f"];

    /// <exception cref="QueryFaultException">A parameter is unknown, there twice, missing, or has a value that can't be.</exception>
    public static PositionQuery Parse(IQueryCollection query)
    {
        foreach ((string name, StringValues values) in query)
        {
            if (!Known.Contains(name))
            {
                throw new QueryFaultException($"There is no parameter {QueryFaultException.Quoted(name)}; there are "
                    + $"{string.Join(", ", Known)}.");
            }

            if (values.Count != 1)
                throw new QueryFaultException($"{QueryFaultException.Quoted(name)} is there {values.Count} times; expected once.");
        }

        string? crs = Text("crs"), format = Text("f");
        if (crs is not (null or "CRS84" or "OGC:CRS84" or ApiDocuments.Crs84))
            throw new QueryFaultException("crs", crs, $"CRS84, longitude before latitude ({ApiDocuments.Crs84})");
        if (format is not (null or CoverageJson or GeoJson))
            throw new QueryFaultException("f", format, $"{CoverageJson} or {GeoJson}");
        (double longitude, double latitude) = PlaceOf(Text("coords"));
        return new(longitude, latitude, Text("datetime") is { } days ? SeasonOf(days) : null,
            Text("parameter-name")?.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries),
            format == GeoJson);

        string? Text(string name) => query[name] is [{ } text] ? text : null;
    }

    private static (double, double) PlaceOf(string? coords)
    {
        const string expected = "a point as POINT(-30.5 -40.25), longitude and latitude in degrees";
        if (coords is null)
            throw new QueryFaultException($"coords is missing; expected {expected}.");
        try
        {
            if (coords.Length < 200 && new WKTReader().Read(coords) is Point { IsEmpty: false } at && Math.Abs(at.X) <= 180
                && Math.Abs(at.Y) <= 90)
            {
                return (at.X, at.Y);
            }
        }
        catch (Exception e) when (e is ParseException or ArgumentException or InvalidOperationException)
        {
            // told below
        }

        throw new QueryFaultException("coords", coords, expected);
    }

    private static (DateOnly, DateOnly) SeasonOf(string days)
    {
        string[] ends = days.Split('/');
        return ends.Length == 2 && DayOf(ends[0]) is { } from && DayOf(ends[1]) is { } to && from < to ? (from, to)
            : throw new QueryFaultException("datetime", days,
                "the days of burial and retrieval, as 2024-04-01/2024-07-01: a prediction is of an exposure");

        static DateOnly? DayOf(string text) => DateOnly.TryParseExact(text.Split('T')[0], "yyyy-MM-dd", CultureInfo.InvariantCulture,
            DateTimeStyles.None, out DateOnly day) ? day : null;
    }
}
