namespace DecayAtlas.Grids.Sampling;

/// <summary>
/// Values at the centres of map cells, or means and commonest classes of points spread evenly over them, at most a grid cell apart up to
/// <see cref="MostPerSide"/> a side: for grids in another reference system than the map, and for maps finer than the grid.
/// </summary>
internal sealed class PointReader(Grid grid, GridWindow window, Resampling resampling, int pointsPerSide)
{
    public const int MostPerSide = 16;

    private const int MostWindowCells = 4 << 20;

    private readonly double[] _columns = new double[LatticeTile.Size * pointsPerSide * pointsPerSide];
    private readonly double[] _rows = new double[LatticeTile.Size * pointsPerSide * pointsPerSide];

    public void Read(LatticeTile tile, double[] values)
    {
        for (int y = 0; y < tile.Rows; y++)
        {
            Locate(tile, y);
            int points = tile.Columns * pointsPerSide * pointsPerSide;
            bool windowed = ReadAround(points);
            for (int x = 0; x < tile.Columns; x++)
                values[y * tile.Columns + x] = ValueOf(x, windowed);
        }
    }

    private double ValueOf(int x, bool windowed)
    {
        int per = pointsPerSide * pointsPerSide;
        if (per == 1)
            return At(x, windowed);
        bool isClass = resampling == Resampling.Mode;
        CellTally cell = new();
        for (int p = x * per; p < (x + 1) * per; p++)
            cell.Add(At(p, windowed), 1, isClass);
        return cell.Value(isClass);
    }

    /// <summary>Where the points of a row of map cells lie in the grid; NaN where they don't.</summary>
    private void Locate(LatticeTile tile, int y)
    {
        int point = 0;
        for (int x = 0; x < tile.Columns; x++)
        {
            for (int v = 0; v < pointsPerSide; v++)
            {
                for (int u = 0; u < pointsPerSide; u++, point++)
                {
                    GeoPoint place = pointsPerSide == 1
                        ? tile.Centres[y * tile.Columns + x]
                        : tile.Lattice.PlaceOf(tile.Column + x + (u + 0.5) / pointsPerSide, tile.Row + y + (v + 0.5) / pointsPerSide);
                    if (double.IsNaN(place.LatitudeDegrees) || !grid.TryLocate(place, out _columns[point], out _rows[point]))
                        _columns[point] = _rows[point] = double.NaN;
                }
            }
        }
    }

    /// <summary>Reads the window around the points; false where it would be too large, as where they lie on both sides of a world
    /// grid.</summary>
    private bool ReadAround(int points)
    {
        double west = double.PositiveInfinity, east = double.NegativeInfinity, north = double.PositiveInfinity,
            south = double.NegativeInfinity;
        for (int p = 0; p < points; p++)
        {
            if (double.IsNaN(_columns[p]))
                continue;
            (west, east) = (Math.Min(west, _columns[p]), Math.Max(east, _columns[p]));
            (north, south) = (Math.Min(north, _rows[p]), Math.Max(south, _rows[p]));
        }
        if (west > east)
            return true;
        // one cell more on each side for the neighbours of bilinear interpolation
        double width = Math.Floor(east) - Math.Floor(west) + 3, height = Math.Floor(south) - Math.Floor(north) + 3;
        if (width * height > MostWindowCells)
            return false;
        window.Read((long)Math.Floor(west) - 1, (long)Math.Floor(north) - 1, (int)width, (int)height);
        return true;
    }

    private double At(int point, bool windowed)
    {
        double column = _columns[point], row = _rows[point];
        if (double.IsNaN(column))
            return double.NaN;
        // the east and south edge of a grid belong to its last column and row
        long homeColumn = (long)Math.Min(Math.Floor(column), grid.Columns - 1), homeRow = (long)Math.Min(Math.Floor(row), grid.Rows - 1);
        if (resampling == Resampling.Bilinear)
        {
            long x = (long)Math.Floor(column - 0.5), y = (long)Math.Floor(row - 0.5);
            double eastward = column - 0.5 - x, southward = row - 0.5 - y;
            double north = Cell(x, y, windowed) * (1 - eastward) + Cell(x + 1, y, windowed) * eastward;
            double south = Cell(x, y + 1, windowed) * (1 - eastward) + Cell(x + 1, y + 1, windowed) * eastward;
            double value = north * (1 - southward) + south * southward;
            if (!double.IsNaN(value))
                return value;
        }
        return Cell(homeColumn, homeRow, windowed);
    }

    private double Cell(long column, long row, bool windowed)
    {
        if (windowed)
            return window.At(column, row);
        if (grid.GoesRoundTheEarth)
            column = (column + grid.Columns) % grid.Columns;
        return column >= 0 && column < grid.Columns && row >= 0 && row < grid.Rows ? grid.ReadCell((int)column, (int)row) : double.NaN;
    }
}
