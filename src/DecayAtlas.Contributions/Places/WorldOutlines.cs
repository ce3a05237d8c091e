using System.Text.Json;

namespace DecayAtlas.Contributions.Places;

/// <summary>Coarse outlines of land and countries for a check without a net: from Natural Earth 1:50 million (public domain), points to
/// 0.01 degrees, so that a coast is right to some kilometres and the smallest islands are missing.</summary>
public sealed class WorldOutlines
{
    /// <summary>Furthest from the drawn coast and border that a place may lie (m): the outlines are thinned, beaches and islets are
    /// missing (common practice, no source).</summary>
    public const double MostFromLandMetres = 10_000, MostFromCountryMetres = 25_000;

    private static readonly Lazy<WorldOutlines> Once = new(Load);

    private readonly CountryOutline[] _countries;

    private WorldOutlines(CountryOutline[] countries) => _countries = countries;

    public static WorldOutlines Shipped => Once.Value;

    public IReadOnlyList<CountryOutline> Countries => _countries;

    /// <summary>The outline of a country by its ISO 3166-1 alpha-2 code; null for one that has none, as a code kept free for users
    /// (ZZ, XA to XZ).</summary>
    public CountryOutline? Find(string countryCode) =>
        Array.Find(_countries, country => string.Equals(country.Code, countryCode, StringComparison.OrdinalIgnoreCase));

    /// <summary>Distance to the nearest land (m), 0 on land.</summary>
    public double DistanceToLandMetres(double latitudeDegrees, double longitudeDegrees)
    {
        if (Array.Exists(_countries, country => country.Contains(latitudeDegrees, longitudeDegrees)))
            return 0;
        return _countries.Min(country => country.DistanceMetres(latitudeDegrees, longitudeDegrees));
    }

    /// <summary>Whether a place lies on land, or so near that the outlines cannot tell.</summary>
    public bool HasLandAt(double latitudeDegrees, double longitudeDegrees) =>
        Array.Exists(_countries, country => country.IsWithin(MostFromLandMetres, latitudeDegrees, longitudeDegrees));

    /// <summary>Whether a place lies in a country, or so near that the outlines cannot tell; null for a country that has none.</summary>
    public bool? Holds(string countryCode, double latitudeDegrees, double longitudeDegrees) => Find(countryCode) is { } country
        ? Math.Abs(latitudeDegrees) <= 90 && country.IsWithin(MostFromCountryMetres, latitudeDegrees, longitudeDegrees) : null;

    // TopoJSON 1.0: the first point of an arc is absolute, each other a step from the one before; ~i is arc i from its end.
    private static WorldOutlines Load()
    {
        using Stream stream = typeof(WorldOutlines).Assembly.GetManifestResourceStream("countries.topojson")!;
        using JsonDocument document = JsonDocument.Parse(stream);
        JsonElement root = document.RootElement;
        double scale = root.GetProperty("transform").GetProperty("scale")[0].GetDouble();
        OutlinePoint[][] arcs = [.. root.GetProperty("arcs").EnumerateArray().Select(Arc)];
        return new WorldOutlines([.. root.GetProperty("objects").GetProperty("countries").GetProperty("geometries").EnumerateArray()
            .Select(geometry => new CountryOutline(
                geometry.TryGetProperty("id", out JsonElement id) ? id.GetString() : null,
                [.. Polygons(geometry).SelectMany(polygon => polygon.EnumerateArray().Select(Ring))]))]);

        OutlinePoint[] Arc(JsonElement steps)
        {
            int x = 0, y = 0;
            return [.. steps.EnumerateArray().Select(step => new OutlinePoint(
                (y += step[1].GetInt32()) * scale, (x += step[0].GetInt32()) * scale))];
        }

        OutlinePoint[] Ring(JsonElement ring)
        {
            List<OutlinePoint> points = [];
            foreach (int arc in ring.EnumerateArray().Select(index => index.GetInt32()))
                points.AddRange(arc >= 0 ? arcs[arc] : arcs[~arc].AsEnumerable().Reverse());
            return [.. points];
        }
    }

    private static JsonElement[] Polygons(JsonElement geometry) => geometry.GetProperty("type").GetString() == "Polygon"
        ? [geometry.GetProperty("arcs")] : [.. geometry.GetProperty("arcs").EnumerateArray()];
}
