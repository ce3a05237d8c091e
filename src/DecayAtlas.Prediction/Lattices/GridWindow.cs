namespace DecayAtlas.Prediction;

/// <summary>A window of a grid that may reach beyond it: cells off the grid are missing, and a grid round the Earth goes on at its other side.</summary>
internal sealed class GridWindow(Grid grid)
{
    private double[] values = [];
    private long column;
    private long row;
    private int columns;
    private int rows;

    /// <summary>Reads a window; its cells can then be asked for by their place in the grid.</summary>
    public void Read(long fromColumn, long fromRow, int width, int height)
    {
        (column, row, columns, rows) = (fromColumn, fromRow, width, height);
        if (values.Length < (long)width * height)
            values = new double[checked(width * height)];
        values.AsSpan(0, width * height).Fill(double.NaN);
        for (int y = (int)Math.Max(0, -fromRow); y < height && fromRow + y < grid.Rows; y++)
        {
            var line = values.AsSpan(y * width, width);
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
    public double At(long gridColumn, long gridRow) => values[(gridRow - row) * columns + (gridColumn - column)];

    /// <summary>A row of the window last read.</summary>
    public ReadOnlySpan<double> Line(long gridRow) => values.AsSpan((int)(gridRow - row) * columns, columns);

    /// <summary>The window itself, row by row.</summary>
    public ReadOnlySpan<double> All => values.AsSpan(0, columns * rows);
}
