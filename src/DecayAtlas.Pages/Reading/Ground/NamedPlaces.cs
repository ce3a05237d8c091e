using NetTopologySuite.Features;
using NetTopologySuite.Geometries;

namespace DecayAtlas.Pages.Reading.Ground;

/// <summary>A place that a map names: where its name stands, and the box that it fills, degrees; a point fills none.</summary>
public sealed record NamedPlace(string Name, GeoPoint At, GroundExtent Box)
{
    internal double Degrees => Box.EastDegrees - Box.WestDegrees;
}

/// <summary>Names that outlines carry.</summary>
public static class NamedPlaces
{
    private const string Usual = "name";

    /// <summary>Points and polygons of a GeoJSON file with a name, the largest first; the name of several stands in the largest of
    /// them.</summary>
    /// <param name="property">The property that names them; <see langword="null"/> for name, NAME or Name.</param>
    /// <exception cref="PagesException">The file can't be read.</exception>
    public static IReadOnlyList<NamedPlace> Read(string path, string? property = null) => GroundFile.Read<NamedPlace>(path, features =>
    [
        .. features.SelectMany(f => NameOf(f, property) is { } name && f.Geometry is { IsEmpty: false } g
                ? [PlaceOf(name, g)] : Array.Empty<NamedPlace>())
            .OrderByDescending(p => p.Degrees).ThenBy(p => p.Name, StringComparer.Ordinal),
    ], "places", "countries or map.regions");

    private static string? NameOf(IFeature feature, string? property) =>
        (feature.Attributes?.GetNames() ?? []).FirstOrDefault(n => string.Equals(n, property ?? Usual, StringComparison.OrdinalIgnoreCase))
            is { } key && feature.Attributes![key] is string { Length: > 0 } name ? name : null;

    private static NamedPlace PlaceOf(string name, Geometry geometry)
    {
        Geometry largest = Enumerable.Range(0, geometry.NumGeometries).Select(geometry.GetGeometryN).MaxBy(g => g.Area)!;
        Coordinate at = largest.InteriorPoint.Coordinate;
        Envelope box = largest.EnvelopeInternal;
        return new NamedPlace(name, new GeoPoint(at.X, at.Y), new GroundExtent(box.MinX, box.MinY, box.MaxX, box.MaxY));
    }
}
