namespace DecayAtlas.Grids.Sampling;

public enum Resampling
{
    /// <summary>The cells are the same.</summary>
    Copy,

    /// <summary>The grid's cell that holds the centre of the map's.</summary>
    Nearest,

    /// <summary>Between the four centres around; where one is missing, the cell that holds the centre.</summary>
    Bilinear,

    /// <summary>The mean over the map's cell, by area.</summary>
    Mean,

    /// <summary>The class that covers most of the map's cell.</summary>
    Mode,
}

/// <summary>
/// Reads one grid at the cells of a map, a tile at a time. Same cells are copied. Where the map's cells are larger than the grid's (by
/// half and more), quantities are averaged over them and classes take the commonest; else the catalogue's rule, nearest or bilinear,
/// applies at the centre. The catalogue's search for the nearest valid cell does not apply: it forgives a site whose stated position
/// falls just off a coast, and on a map it would invent land. For the same reason a mean needs values on half of the cell.
/// </summary>
public sealed class GridReader
{
    private const double CoarserFrom = 1.5;
    private const double Aligned = 1e-6;

    private readonly Grid _grid;
    private readonly GroundLattice _lattice;
    private readonly GridWindow _window;
    private readonly AreaReader? _areas;
    private readonly PointReader? _points;

    public GridReader(Grid grid, SamplingRule rule, bool isClass, GroundLattice lattice)
    {
        _grid = grid;
        _lattice = lattice;
        _window = new(grid);
        bool sameSystem = grid.Projection.IsSameAs(lattice.Projection);
        double ratio = sameSystem
            ? Math.Max(lattice.Cells.CellWidth / grid.Lattice.CellWidth, lattice.Cells.CellHeight / grid.Lattice.CellHeight)
            : RatioInTheMiddle();
        int pointsPerSide = ratio >= CoarserFrom ? (int)Math.Clamp(Math.Ceiling(ratio), 2, PointReader.MostPerSide) : 1;
        Resampling = sameSystem && IsAligned() ? Resampling.Copy
            : ratio >= CoarserFrom ? isClass ? Resampling.Mode : Resampling.Mean
            : isClass || rule != SamplingRule.Bilinear ? Resampling.Nearest : Resampling.Bilinear;
        if (sameSystem && Resampling is (Resampling.Mean or Resampling.Mode))
            _areas = new(grid, _window, isClass);
        else if (Resampling != Resampling.Copy)
            _points = new(grid, _window, Resampling, pointsPerSide);
    }

    public Resampling Resampling { get; }

    /// <summary>Values at the cells of the tile, row by row; NaN where missing or off the grid.</summary>
    public void Read(LatticeTile tile, double[] values)
    {
        if (_areas is not null)
            _areas.Read(tile, Turn(tile), values);
        else if (_points is not null)
            _points.Read(tile, values);
        else
            Copy(tile, values);
    }

    private void Copy(LatticeTile tile, double[] values)
    {
        GridLattice g = _grid.Lattice;
        long column = (long)Math.Round((_lattice.Cells.West + Turn(tile) - g.West) / g.CellWidth) + tile.Column;
        long row = (long)Math.Round((g.North - _lattice.Cells.North) / g.CellHeight) + tile.Row;
        _window.Read(column, row, tile.Columns, tile.Rows);
        _window.All.CopyTo(values);
    }

    /// <summary>What must be added to the map's longitudes so that the tile lies on the grid: a turn round the Earth, or nothing.</summary>
    private double Turn(LatticeTile tile)
    {
        if (!_grid.Projection.IsGeographic || _grid.GoesRoundTheEarth)
            return 0;
        double middle = _lattice.Cells.West + (tile.Column + tile.Columns / 2.0) * _lattice.Cells.CellWidth;
        double gridMiddle = (_grid.Lattice.West + _grid.Lattice.East) / 2;
        return 360 * Math.Round((gridMiddle - middle) / 360);
    }

    /// <summary>Whether the cells are the same, so that either rule gives the cell itself.</summary>
    private bool IsAligned()
    {
        GridLattice g = _grid.Lattice, m = _lattice.Cells;
        double columns = (m.West - g.West) / g.CellWidth, rows = (g.North - m.North) / g.CellHeight;
        double turn = _grid.Projection.IsGeographic ? 360 / g.CellWidth : 0;
        bool SameStep(double one, double other, int count) => Math.Abs(one - other) * count < Aligned * other;
        bool Whole(double v) => Math.Abs(v - Math.Round(v)) < Aligned * 10;
        return SameStep(g.CellWidth, m.CellWidth, m.Columns) && SameStep(g.CellHeight, m.CellHeight, m.Rows) && Whole(columns)
            && Whole(rows)
            && (turn == 0 || Whole(turn) || (m.West >= g.West - Aligned && m.East <= g.East + Aligned));
    }

    /// <summary>How many of the grid's cells lie along a side of a map cell, in the middle of the map.</summary>
    private double RatioInTheMiddle()
    {
        for (int part = 1; part < 8; part++)
        {
            double column = _lattice.Columns * part / 8.0, row = _lattice.Rows * part / 8.0;
            if (_grid.TryLocate(_lattice.PlaceOf(column, row), out double x, out double y)
                && _grid.TryLocate(_lattice.PlaceOf(column + 1, row), out double xe, out double ye)
                && _grid.TryLocate(_lattice.PlaceOf(column, row + 1), out double xs, out double ys)
                && Math.Abs(xe - x) < _grid.Columns / 2 + 1 && Math.Abs(xs - x) < _grid.Columns / 2 + 1)
            {
                return Math.Max(Math.Sqrt((xe - x) * (xe - x) + (ye - y) * (ye - y)), Math.Sqrt((xs - x) * (xs - x) + (ys - y) * (ys - y)));
            }
        }
        return 1;
    }
}
