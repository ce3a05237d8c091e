namespace DecayAtlas.Grids.Sampling;

/// <summary>A window of a grid that may reach beyond it: cells off the grid are missing, and a grid round the Earth goes on at its other
/// side.</summary>
internal sealed class GridWindow(Grid grid)
{
    private double[] _values = [];
    private long _column;
    private long _row;
    private int _columns;
    private int _rows;

    /// <summary>Reads a window; its cells can then be asked for by their place in the grid.</summary>
    public void Read(long fromColumn, long fromRow, int width, int height)
    {
        (_column, _row, _columns, _rows) = (fromColumn, fromRow, width, height);
        if (_values.Length < (long)width * height)
            _values = new double[checked(width * height)];
        _values.AsSpan(0, width * height).Fill(double.NaN);
        for (int y = (int)Math.Max(0, -fromRow); y < height && fromRow + y < grid.Rows; y++)
        {
            Span<double> line = _values.AsSpan(y * width, width);
            for (int x = 0; x < width;)
            {
                long at = fromColumn + x;
                long there = grid.GoesRoundTheEarth ? (at % grid.Columns + grid.Columns) % grid.Columns : at;
                if (there < 0)
                {
                    x += (int)Math.Min(width - x, -there);
                    continue;
                }
                if (there >= grid.Columns)
                    break;
                int run = (int)Math.Min(width - x, grid.Columns - there);
                // Row by row into place; the grid keeps decoded blocks, so this decodes nothing twice.
                grid.ReadWindow((int)there, (int)(fromRow + y), run, 1, line.Slice(x, run));
                x += run;
            }
        }
    }

    /// <summary>A cell that must lie in the window last read.</summary>
    public double At(long gridColumn, long gridRow) => _values[(gridRow - _row) * _columns + (gridColumn - _column)];

    public ReadOnlySpan<double> Line(long gridRow) => _values.AsSpan((int)(gridRow - _row) * _columns, _columns);

    public ReadOnlySpan<double> All => _values.AsSpan(0, _columns * _rows);
}
