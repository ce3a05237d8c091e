using NetTopologySuite.Geometries;
using NetTopologySuite.Geometries.Prepared;
using NetTopologySuite.Geometries.Utilities;

namespace DecayAtlas.Prediction.Regions;

/// <summary>
/// A polygon in the cell coordinates of a map: columns to the east, rows to the south. Sides are straight in degrees; on a map they are
/// followed in steps of at most a tenth of a degree.
/// </summary>
internal sealed class RegionShape
{
    private const double StepDegrees = 0.1;

    private readonly IPreparedGeometry _shape;

    private RegionShape(Geometry geometry) => _shape = PreparedGeometryFactory.Prepare(geometry);

    public Envelope Box => _shape.Geometry.EnvelopeInternal;

    /// <summary>The polygon on the map; where longitudes run on beyond 180, a turn round the Earth to either side too. Empty off the
    /// map.</summary>
    public static IReadOnlyList<RegionShape> On(Geometry region, MapLattice lattice)
    {
        Geometry dense = lattice.Projection.IsGeographic ? region : NetTopologySuite.Densify.Densifier.Densify(region, StepDegrees);
        Envelope map = new(0, lattice.Columns, 0, lattice.Rows);
        List<RegionShape> found = new();
        foreach (double turn in lattice.Projection.IsGeographic ? (double[])[0, 360, -360] : [0])
        {
            Geometry placed = Placed(dense, lattice, turn);
            if (!placed.IsEmpty && placed.EnvelopeInternal.Intersects(map))
                found.Add(new(placed));
        }
        return found;
    }

    /// <summary>Shares of the cells of a square block that lie in the polygon, row by row; null where none does.</summary>
    public double[]? Shares(int column, int row, int side)
    {
        Polygon block = Square(column, row, side);
        if (!_shape.Intersects(block))
            return null;
        double[] shares = new double[side * side];
        if (_shape.Contains(block))
        {
            Array.Fill(shares, 1);
            return shares;
        }
        for (int i = 0; i < shares.Length; i++)
        {
            Polygon cell = Square(column + i % side, row + i / side, 1);
            shares[i] = !_shape.Intersects(cell) ? 0 : _shape.Contains(cell) ? 1 : _shape.Geometry.Intersection(cell).Area;
        }
        return shares;
    }

    /// <summary>Whether any of a cell lies in the polygon, or touches it.</summary>
    public bool Touches(int column, int row) => _shape.Intersects(Square(column, row, 1));

    private static Polygon Square(int column, int row, int side) => new(new LinearRing(
    [
        new(column, row), new(column + side, row), new(column + side, row + side), new(column, row + side), new(column, row),
    ]));

    private static Geometry Placed(Geometry region, MapLattice lattice, double turn)
    {
        Geometry placed = region.Copy();
        bool off = false;
        placed.Apply(new Coordinates(c =>
        {
            if (!lattice.Projection.TryProject(new GeoPoint(c.X, c.Y), out double x, out double y))
                off = true;
            c.X = (x + turn - lattice.Cells.West) / lattice.Cells.CellWidth;
            c.Y = (lattice.Cells.North - y) / lattice.Cells.CellHeight;
        }));
        placed.GeometryChanged();
        // a polygon that leaves the map, or that the map tears apart, is no longer sound
        return off ? Polygon.Empty : placed.IsValid ? placed : GeometryFixer.Fix(placed);
    }

    private sealed class Coordinates(Action<Coordinate> change) : ICoordinateFilter
    {
        public void Filter(Coordinate coordinate) => change(coordinate);
    }
}
