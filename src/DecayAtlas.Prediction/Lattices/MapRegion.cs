using NetTopologySuite.Algorithm.Locate;
using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Lattices;

/// <summary>What is mapped: everything the grids share, a box, or the cells whose centres lie in polygons.</summary>
public sealed class MapRegion
{
    private readonly RegionSet? _polygons;
    private readonly (Envelope Box, IndexedPointInAreaLocator Locator)[] _shapes;

    private MapRegion(BoundingBox? box, RegionSet? polygons)
    {
        Extent = box;
        _polygons = polygons;
        _shapes = [.. (polygons?.Regions ?? []).Select(r => (r.Shape.EnvelopeInternal, new IndexedPointInAreaLocator(r.Shape)))];
    }

    public static MapRegion Whole { get; } = new(null, null);

    /// <summary>The box around it; null for everything.</summary>
    public BoundingBox? Extent { get; }

    public static MapRegion Of(BoundingBox box) => new(box, null);

    public static MapRegion Of(RegionSet polygons) => new(polygons.Extent, polygons);

    /// <summary>What lies inside the frame of its map without a prediction, for the legend.</summary>
    internal string Unpredicted => _polygons is null ? "sea, or a covariate missing" : "not asked for, sea, or missing";

    public override string ToString() => _polygons is null ? Extent?.ToString() ?? "whole" : $"{_polygons.Path}: {Extent}";

    /// <summary>Marks the places that belong to the region, and says whether any does. Places that are not a number never do.</summary>
    internal bool Mark(ReadOnlySpan<GeoPoint> places, Span<bool> inside)
    {
        bool any = false;
        (Envelope Box, IndexedPointInAreaLocator Locator)[] near = _polygons is null ? [] : Near(places);
        for (int i = 0; i < places.Length; i++)
        {
            GeoPoint place = places[i];
            inside[i] = !double.IsNaN(place.LatitudeDegrees) && (_polygons is null ? Extent?.Contains(place) ?? true : Holds(near, place));
            any |= inside[i];
        }
        return any;
    }

    private static bool Holds((Envelope Box, IndexedPointInAreaLocator Locator)[] near, GeoPoint place)
    {
        foreach ((Envelope? shapeBox, IndexedPointInAreaLocator? locator) in near)
        {
            // polygons may be drawn from -180 to 180 or run on beyond
            foreach (double turn in (ReadOnlySpan<double>)[0, 360, -360])
            {
                Coordinate at = new(place.LongitudeDegrees + turn, place.LatitudeDegrees);
                if (shapeBox.Contains(at) && locator.Locate(at) != Location.Exterior)
                    return true;
            }
        }
        return false;
    }

    private (Envelope Box, IndexedPointInAreaLocator Locator)[] Near(ReadOnlySpan<GeoPoint> places)
    {
        double south = double.PositiveInfinity, north = double.NegativeInfinity;
        foreach (GeoPoint place in places)
        {
            if (double.IsNaN(place.LatitudeDegrees))
                continue;
            (south, north) = (Math.Min(south, place.LatitudeDegrees), Math.Max(north, place.LatitudeDegrees));
        }
        return [.. _shapes.Where(s => s.Box.MinY <= north && s.Box.MaxY >= south)];
    }
}
