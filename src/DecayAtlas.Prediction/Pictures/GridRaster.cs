namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// A grid as a picture can show it: under each pixel the value of the cell that holds its middle. Where that would unpack more
/// than <see cref="MostCells"/> cells, pixels are taken larger, so that the cost is bounded.
/// </summary>
internal sealed class GridRaster(int columns, int rows)
{
    public const long MostCells = 256L << 20;

    /// <summary>Points asked for at a time; the sampler takes about 150 bytes for each.</summary>
    private const int Portion = 1 << 17;

    private readonly double[] _values = new double[columns * rows];

    public int Columns => columns;

    public int Rows => rows;

    /// <summary>Row by row from the north-west; NaN where there is none.</summary>
    public IReadOnlyList<double> Values => _values;

    public double At(int column, int row) => _values[row * columns + column];

    /// <summary>The grid over a box, at most that many pixels wide and high.</summary>
    public static GridRaster Of(Grid grid, BoundingBox extent, int columns, int rows)
    {
        (columns, rows) = Affordable(grid, columns, rows);
        GridRaster raster = new(columns, rows);
        double width = (extent.EastDegrees - extent.WestDegrees) / columns, height = (extent.NorthDegrees - extent.SouthDegrees) / rows;
        int lines = Math.Max(1, Portion / columns);
        for (int top = 0; top < rows; top += lines)
        {
            int first = top * columns, count = Math.Min(lines, rows - top) * columns;
            GeoPoint[] points = [.. Enumerable.Range(first, count).Select(i =>
                new GeoPoint(extent.WestDegrees + (i % columns + 0.5) * width, extent.NorthDegrees - (i / columns + 0.5) * height))];
            IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
            for (int i = 0; i < count; i++)
                raster._values[first + i] = samples[i].Value ?? double.NaN;
        }

        return raster;
    }

    private static (int Columns, int Rows) Affordable(Grid grid, int columns, int rows)
    {
        double across = Math.Ceiling(grid.Columns / (double)grid.BlockColumns), down = Math.Ceiling(grid.Rows / (double)grid.BlockRows);
        double most = Math.Max(1, MostCells / ((double)grid.BlockColumns * grid.BlockRows));
        while (columns > 8 && rows > 8 && Math.Min(columns, across) * Math.Min(rows, down) > most)
        {
            columns = columns * 4 / 5;
            rows = rows * 4 / 5;
        }

        return (columns, rows);
    }
}
