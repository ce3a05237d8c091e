using NetTopologySuite.Geometries;
using NetTopologySuite.Simplify;

namespace DecayAtlas.Pages.Reading.Ground;

/// <summary>Outlines of land, as rings of longitude and latitude, simple enough to be drawn at once.</summary>
public static class Outlines
{
    /// <summary>What is drawn at most; beyond it outlines are made coarser.</summary>
    public const int MaxPoints = 60_000;

    /// <summary>Polygons of a GeoJSON file: each a list of rings, each a list of [longitude, latitude] rounded to 0.0001°.</summary>
    /// <exception cref="PagesException">The file can't be read.</exception>
    public static IReadOnlyList<double[][][]> Read(string path) => GroundFile.Read(path, features =>
    {
        Geometry[] all = [.. features.Select(f => f.Geometry).Where(g => g is Polygon or MultiPolygon)];
        for (double degrees = 0.01; all.Sum(g => g.NumPoints) > MaxPoints && degrees < 2; degrees *= 2)
            all = [.. all.Select(g => TopologyPreservingSimplifier.Simplify(g, degrees))];
        return all.SelectMany(Polygons).Select(RingsOf).ToArray();
    }, "outlines", "countries");

    private static IEnumerable<Polygon> Polygons(Geometry geometry) =>
        Enumerable.Range(0, geometry.NumGeometries).Select(geometry.GetGeometryN).OfType<Polygon>().Where(p => !p.IsEmpty);

    private static double[][][] RingsOf(Polygon polygon) => [RingOf(polygon.ExteriorRing), .. polygon.InteriorRings.Select(RingOf)];

    private static double[][] RingOf(LineString ring) =>
        [.. ring.Coordinates.Select(c => new[] { Math.Round(c.X, 4), Math.Round(c.Y, 4) })];
}
