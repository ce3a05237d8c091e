namespace DecayAtlas.Grids.Sampling;

/// <summary>
/// Means over map cells, or the class that covers most of them, where map and grid share a reference system: each of the grid's cells
/// counts by the part of the map cell that it covers, in degrees also by its area on the ground (the cosine of its latitude).
/// Reads a few rows of the grid at a time, so that memory does not grow with the size of the map's cells.
/// </summary>
internal sealed class AreaReader(Grid grid, GridWindow window, bool isClass)
{
    private const int CellsAtATime = 1 << 20;

    public void Read(LatticeTile tile, double turn, double[] values)
    {
        GridLattice g = grid.Lattice, m = tile.Lattice.Cells;
        double perColumn = m.CellWidth / g.CellWidth, perRow = m.CellHeight / g.CellHeight;
        double west = (m.West + turn - g.West) / g.CellWidth + tile.Column * perColumn,
            north = (g.North - m.North) / g.CellHeight + tile.Row * perRow;
        long from = (long)Math.Floor(west + 1e-9), to = (long)Math.Ceiling(west + tile.Columns * perColumn - 1e-9);
        int width = checked((int)(to - from)), chunk = Math.Max(1, CellsAtATime / width);
        for (int y = 0; y < tile.Rows; y++)
        {
            double top = north + y * perRow, bottom = top + perRow;
            CellTally[] cells = new CellTally[tile.Columns];
            long last = (long)Math.Ceiling(bottom - 1e-9);
            for (long row = (long)Math.Floor(top + 1e-9); row < last; row += chunk)
            {
                int rows = (int)Math.Min(chunk, last - row);
                window.Read(from, row, width, rows);
                for (long line = row; line < row + rows; line++)
                {
                    double weight = (Math.Min(bottom, line + 1) - Math.Max(top, line)) * GroundWeight(line);
                    if (weight > 0)
                        AddLine(window.Line(line), from, west, perColumn, weight, cells);
                }
            }
            for (int x = 0; x < cells.Length; x++)
                values[y * tile.Columns + x] = cells[x].Value(isClass);
        }
    }

    private double GroundWeight(long row) => grid.Projection.IsGeographic
        ? Math.Max(0, Math.Cos(double.DegreesToRadians(grid.Lattice.North - (row + 0.5) * grid.Lattice.CellHeight)))
        : 1;

    private void AddLine(ReadOnlySpan<double> line, long from, double west, double perColumn, double weight, CellTally[] cells)
    {
        for (int x = 0; x < cells.Length; x++)
        {
            double left = west + x * perColumn, right = left + perColumn;
            int first = (int)(Math.Floor(left + 1e-9) - from), last = (int)Math.Min(line.Length, Math.Ceiling(right - 1e-9) - from);
            for (int i = first; i < last; i++)
            {
                double share = Math.Min(right, from + i + 1) - Math.Max(left, from + i);
                cells[x].Add(line[i], share * weight, isClass);
            }
        }
    }
}

internal struct CellTally
{
    private const double LeastValid = 0.5;

    private double _sum;
    private double _valid;
    private double _all;
    private Dictionary<double, double>? _classes;

    public void Add(double value, double weight, bool isClass)
    {
        _all += weight;
        if (double.IsNaN(value))
            return;
        _valid += weight;
        _sum += value * weight;
        if (isClass)
        {
            _classes ??= [];
            _classes[value] = _classes.GetValueOrDefault(value) + weight;
        }
    }

    /// <summary>The mean, or the class with most weight (of equal ones the lower); NaN where less than half is valid.</summary>
    public readonly double Value(bool isClass) =>
        _valid == 0 || _valid < LeastValid * _all * (1 - 1e-9) ? double.NaN
        : isClass ? _classes!.OrderByDescending(c => c.Value).ThenBy(c => c.Key).First().Key
        : _sum / _valid;
}
