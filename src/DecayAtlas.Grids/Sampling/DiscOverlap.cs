namespace DecayAtlas.Grids.Sampling;

/// <summary>
/// How much of a circle on the ground each cell of a grid covers. The corners of a cell, and points along its edges where
/// those bend, are carried by distance and direction (on the ellipsoid) onto an equal-area plane around the circle's
/// centre, where the cell is a polygon and its overlap with the circle has a closed form. Poles and the antimeridian are
/// places like any other there.
/// </summary>
internal sealed class DiscOverlap
{
    public const int MaxCells = 1_000_000;

    /// <summary>Edges are cut so finely that the bend left out is this share of the radius.</summary>
    private const double Bend = 1e-4;

    private readonly Grid _grid;
    private readonly GeoPoint _centre;
    private readonly double _radius;
    private readonly double _bending;
    private readonly List<(double X, double Y)> _outline = [];

    public DiscOverlap(Grid grid, GeoPoint centre, double radiusMetres)
    {
        _grid = grid;
        _centre = centre;
        _radius = Reach(radiusMetres);
        // A parallel bends by length^2 tan(latitude) / (8 R); a meridian of a map may bend at the equator as well.
        double steep = Math.Tan(double.DegreesToRadians(Math.Min(89.9, Math.Abs(centre.LatitudeDegrees) + 1)));
        _bending = Math.Max(1, steep) / (8 * GeoPoint.MeanEarthRadiusMetres * Bend * _radius);
    }

    public double Area => Math.PI * _radius * _radius;

    /// <summary>Calls back with every cell that the circle touches and the area of the overlap, square metres.</summary>
    /// <exception cref="GridException">The circle touches more than <see cref="MaxCells"/> cells.</exception>
    public void ForEach(CellIndex home, Action<CellIndex, double> use)
    {
        HashSet<CellIndex> seen = [home];
        Queue<CellIndex> waiting = new([home]);
        while (waiting.TryDequeue(out CellIndex cell))
        {
            double area = OverlapOf(cell);
            if (area <= 1e-12 * Area)
                continue;

            use(cell, area);
            if (seen.Count > MaxCells)
            {
                throw new GridException(
                    $"{_grid.Path}: a circle of {Math.Round(_radius)} m touches more than {MaxCells} cells; use the rule nearest or a "
                    + "coarser grid.");
            }

            foreach ((int column, int row) in (ReadOnlySpan<(int, int)>)[(cell.Column - 1, cell.Row), (cell.Column + 1, cell.Row),
                (cell.Column, cell.Row - 1), (cell.Column, cell.Row + 1)])
            {
                CellIndex next = new(_grid.GoesRoundTheEarth ? (column + _grid.Columns) % _grid.Columns : column, row);
                if (next.Column >= 0 && next.Column < _grid.Columns && row >= 0 && row < _grid.Rows && seen.Add(next))
                    waiting.Enqueue(next);
            }
        }
    }

    private double OverlapOf(CellIndex cell)
    {
        _outline.Clear();
        Edge(cell.Column, cell.Row, 1, 0);
        Edge(cell.Column + 1, cell.Row, 0, 1);
        Edge(cell.Column + 1, cell.Row + 1, -1, 0);
        Edge(cell.Column, cell.Row + 1, 0, -1);
        double area = 0;
        for (int i = 0; i < _outline.Count; i++)
            area += Wedge(_outline[i], _outline[(i + 1) % _outline.Count]);

        return Math.Abs(area);
    }

    /// <summary>Adds the start of an edge and points along it, without its end.</summary>
    private void Edge(int column, int row, int right, int down)
    {
        (double X, double Y)? start = Place(column, row), end = Place(column + right, row + down);
        if (start is { } from)
            _outline.Add(from);

        if (start is { } a && end is { } b)
        {
            double length2 = (a.X - b.X) * (a.X - b.X) + (a.Y - b.Y) * (a.Y - b.Y);
            int parts = (int)Math.Clamp(Math.Ceiling(Math.Sqrt(length2 * _bending)), 1, 64);
            for (int i = 1; i < parts; i++)
            {
                double share = i / (double)parts;
                if (Place(column + right * share, row + down * share) is { } between)
                    _outline.Add(between);
            }
        }
    }

    private (double X, double Y)? Place(double column, double row)
    {
        GeoPoint place;
        if (_grid.Projection.IsGeographic)
        {
            // Half a cell beyond the pole is the pole.
            GridLattice lattice = _grid.Lattice;
            place = new GeoPoint(lattice.West + column * lattice.CellWidth, Math.Clamp(lattice.North - row * lattice.CellHeight, -90, 90));
        }
        else
        {
            place = _grid.PlaceOf(column, row);
        }

        if (double.IsNaN(place.LatitudeDegrees))
            return null;

        (double metres, double azimuth) = Geodesic.Between(_centre, place);
        double distance = Reach(metres);
        (double sin, double cos) = Math.SinCos(azimuth);
        return (distance * sin, distance * cos);
    }

    /// <summary>Signed area of the part of the circle between the centre and a straight edge.</summary>
    private double Wedge((double X, double Y) a, (double X, double Y) b)
    {
        double dx = b.X - a.X, dy = b.Y - a.Y;
        double square = dx * dx + dy * dy;
        if (square == 0)
            return 0;

        double toward = -(a.X * dx + a.Y * dy) / square;
        double apart = (a.X * dy - a.Y * dx) * (a.X * dy - a.Y * dx) / square;
        double half = Math.Sqrt(Math.Max(0, (_radius * _radius - apart) / square));
        double enter = Math.Clamp(toward - half, 0, 1), leave = Math.Clamp(toward + half, 0, 1);
        if (half == 0 || enter >= leave)
            return Sector(a, b);

        (double X, double Y) p = (a.X + enter * dx, a.Y + enter * dy), q = (a.X + leave * dx, a.Y + leave * dy);
        return Sector(a, p) + (p.X * q.Y - p.Y * q.X) / 2 + Sector(q, b);
    }

    private double Sector((double X, double Y) a, (double X, double Y) b) =>
        _radius * _radius / 2 * Math.Atan2(a.X * b.Y - a.Y * b.X, a.X * b.X + a.Y * b.Y);

    /// <summary>Radius on the equal-area plane of a distance on the ground (Snyder 1987, eq. 24-1, on the mean sphere).</summary>
    private static double Reach(double metres) =>
        2 * GeoPoint.MeanEarthRadiusMetres * Math.Sin(Math.Min(Math.PI / 2, metres / (2 * GeoPoint.MeanEarthRadiusMetres)));
}
