using System.Globalization;
using NetTopologySuite.Geometries;
using NetTopologySuite.Geometries.Prepared;
using NetTopologySuite.Index.Strtree;

namespace DecayAtlas.Grids.Polygons;

/// <param name="Text">The attribute of the unit as text; null where there is none.</param>
/// <param name="Status">Whether a unit holds the point, the nearest one within the stated distance does, or none.</param>
/// <param name="DistanceMetres">Distance to the border of the nearest unit; 0 inside one, null where none was found.</param>
/// <param name="Units">How many units hold the point; more than 1 where the map overlaps itself (the first in the file counts).</param>
internal readonly record struct PolygonSample(string? Text, SampleStatus Status, double? DistanceMetres, int Units)
{
    public double? Value => double.TryParse(Text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) ? value : null;
}

/// <summary>
/// A map of units such as soil types, with one attribute of each: GeoJSON, an Esri shapefile or a GeoPackage, in any reference
/// system that <see cref="Projection"/> knows. The units are held in memory with a tree of their boxes.
/// </summary>
internal sealed class PolygonLayer
{
    private readonly STRtree<int> _tree = new();
    private readonly List<(IPreparedGeometry Shape, string? Text)> _units = [];

    private PolygonLayer(string path, Projection projection, IEnumerable<(Geometry Shape, string? Text)> units)
    {
        Projection = projection;
        foreach ((Geometry shape, string? text) in units)
        {
            if (shape is Polygon or MultiPolygon && !shape.IsEmpty)
            {
                _tree.Insert(shape.EnvelopeInternal, _units.Count);
                _units.Add((PreparedGeometryFactory.Prepare(shape), text));
            }
        }

        if (_units.Count == 0)
            throw new GridException($"{path} holds no polygons.");

        _tree.Build();
    }

    public Projection Projection { get; }

    public int Count => _units.Count;

    /// <summary>Reads a layer, told apart by the ending .geojson, .json, .shp or .gpkg.</summary>
    /// <param name="table">Table of a GeoPackage; may be left out where it holds one.</param>
    /// <param name="declaredCrs">Reference system of a file that names none: a code such as EPSG:4326, or well-known text.</param>
    /// <exception cref="GridException">The file is absent or damaged, has no such attribute, or is in an unknown reference
    /// system.</exception>
    public static PolygonLayer Open(string path, string attribute, string? table = null, string? declaredCrs = null)
    {
        if (!File.Exists(path))
            throw new GridException($"{path} cannot be opened: there is no such file.");

        try
        {
            PolygonSource source = Path.GetExtension(path).ToLowerInvariant() switch
            {
                ".geojson" or ".json" => GeoJsonSource.Read(path, attribute),
                ".shp" => ShapefileSource.Read(path, attribute),
                ".gpkg" => GeoPackageSource.Read(path, attribute, table),
                _ => throw new GridException($"{path} is no polygon file by its name; .geojson, .json, .shp or .gpkg was expected."),
            };
            Projection projection = source.Projection ?? GeometryCheck.Declared(path, declaredCrs);
            GeometryCheck.RequireAgreement(path, projection, declaredCrs);
            return new PolygonLayer(path, projection, source.Units);
        }
        catch (Exception e) when (e is not (GridException or OutOfMemoryException))
        {
            // The readers answer damage with errors of many kinds.
            throw new GridException($"{path} cannot be read: {e.Message.Split('\n')[0].TrimEnd('.')}.", e);
        }
    }

    /// <param name="validWithinMetres">How far to look for a unit where none holds the point, metres, at most 100 km; null does not
    /// look.</param>
    public IReadOnlyList<PolygonSample> Sample(IReadOnlyList<GeoPoint> points, double? validWithinMetres)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(validWithinMetres ?? 0, 100_000, nameof(validWithinMetres));
        return [.. points.Select(point => SampleOne(point, validWithinMetres))];
    }

    private PolygonSample SampleOne(GeoPoint point, double? within)
    {
        if (!Projection.TryProject(Turned(point), out double x, out double y))
            return new PolygonSample(null, SampleStatus.Outside, null, 0);

        Point place = new(x, y);
        int[] holding = [.. _tree.Query(place.EnvelopeInternal).Where(u => _units[u].Shape.Covers(place)).Order()];
        if (holding.Length > 0)
            return new PolygonSample(_units[holding[0]].Text, SampleStatus.Sampled, 0, holding.Length);

        if (within is { } reach)
        {
            (double metres, int unit) = Nearest(point, place, reach);
            if (metres <= reach)
                return new PolygonSample(_units[unit].Text, SampleStatus.NearestValid, metres, 0);
        }

        return new PolygonSample(null, SampleStatus.Missing, null, 0);
    }

    // The nearest border in the map's plane, measured on the ground; in degrees the plane is stretched so that both axes count alike.
    private (double Metres, int Unit) Nearest(GeoPoint point, Point place, double reach)
    {
        double unit = Projection.IsGeographic ? 111_000 : Projection.Definition.UnitMetres;
        double stretch = Projection.IsGeographic ? Math.Max(0.02, Math.Cos(double.DegreesToRadians(point.LatitudeDegrees))) : 1;
        Envelope window = place.EnvelopeInternal.Copy();
        window.ExpandBy(1.1 * reach / unit / stretch, 1.1 * reach / unit);
        (double Metres, int Unit) best = (double.PositiveInfinity, -1);
        foreach (int u in _tree.Query(window).Order())
        {
            double metres = Metres(point, NearestOn(_units[u].Shape.Geometry, place, stretch));
            best = metres < best.Metres ? (metres, u) : best;
        }

        return best;
    }

    private static Coordinate NearestOn(Geometry shape, Point place, double stretch)
    {
        Coordinate best = new(double.NaN, double.NaN);
        double least = double.PositiveInfinity;
        foreach (Geometry ring in Rings(shape))
        {
            Coordinate[] corners = ring.Coordinates;
            for (int i = 0; i + 1 < corners.Length; i++)
            {
                double ax = (corners[i].X - place.X) * stretch, ay = corners[i].Y - place.Y;
                double dx = (corners[i + 1].X - corners[i].X) * stretch, dy = corners[i + 1].Y - corners[i].Y;
                double square = dx * dx + dy * dy;
                double along = square == 0 ? 0 : Math.Clamp(-(ax * dx + ay * dy) / square, 0, 1);
                double x = ax + along * dx, y = ay + along * dy;
                if (x * x + y * y < least)
                {
                    least = x * x + y * y;
                    best = new Coordinate(place.X + x / stretch, place.Y + y);
                }
            }
        }

        return best;
    }

    private static IEnumerable<Geometry> Rings(Geometry shape) => Enumerable.Range(0, shape.NumGeometries)
        .Select(i => (Polygon)shape.GetGeometryN(i)).SelectMany(p => p.InteriorRings.Prepend(p.ExteriorRing));

    private double Metres(GeoPoint point, Coordinate border) =>
        Projection.TryUnproject(border.X, border.Y, out GeoPoint place) ? point.GroundDistanceMetres(place) : double.PositiveInfinity;

    // Polygons in degrees are drawn from -180 to 180, or from 0 to 360.
    private GeoPoint Turned(GeoPoint point)
    {
        if (!Projection.IsGeographic || _tree.Root.Bounds is not Envelope box
            || (point.LongitudeDegrees >= box.MinX && point.LongitudeDegrees <= box.MaxX))
        {
            return point;
        }

        double turned = point.LongitudeDegrees + (point.LongitudeDegrees < box.MinX ? 360 : -360);
        return turned >= box.MinX && turned <= box.MaxX ? point with { LongitudeDegrees = turned } : point;
    }
}
