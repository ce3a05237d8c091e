namespace DecayAtlas.Pages.Reading.Ground;

/// <summary>What is predicted, its interval and where the model applies, thinned to at most <see cref="MaxCells"/> cells of even longitude
/// and latitude, for a picture that a browser paints itself.</summary>
/// <param name="Rows">Rows, from the north.</param>
/// <param name="WestDegrees">Western edge (degrees east, WGS 84).</param>
/// <param name="IsThinned">Whether the file holds more cells than these.</param>
/// <param name="Predicted">Predicted k (d⁻¹) or S, NaN where there is none.</param>
/// <param name="Lower">Lower end of the prediction interval; missing where the map has none.</param>
/// <param name="Applies">1 where the model applies, 0 where it does not, NaN where there is no prediction; missing where the map does not
/// say.</param>
public sealed record MapRaster(
    int Columns, int Rows, double WestDegrees, double SouthDegrees, double EastDegrees, double NorthDegrees, bool IsThinned,
    double[] Predicted, double[]? Lower, double[]? Upper, double[]? Applies)
{
    public const int MaxCells = 300_000;

    /// <summary>Reads the bands of a map, told apart by their names.</summary>
    /// <exception cref="GridException">The file is damaged.</exception>
    public static MapRaster Read(string path)
    {
        IReadOnlyList<GridLayer> bands = GridFile.Describe(path).Layers;
        using Grid first = GridFile.Open(path);
        GroundExtent extent = first.Extent();
        double thin = Math.Max(1, Math.Sqrt((double)first.Columns * first.Rows / MaxCells));
        int columns = Math.Max(1, (int)Math.Floor(first.Columns / thin)), rows = Math.Max(1, (int)Math.Floor(first.Rows / thin));

        MapCells cells = new(columns, rows, extent);
        return new MapRaster(columns, rows, extent.WestDegrees, extent.SouthDegrees, extent.EastDegrees, extent.NorthDegrees, thin > 1,
            Sample(1), Named("lower"), Named("upper"), Named("applicab") ?? Named("within_training_range"));

        double[]? Named(string name) =>
            bands.FirstOrDefault(b => b.Title?.Contains(name, StringComparison.OrdinalIgnoreCase) == true) is { } band ? Sample(band.Band)
            : null;

        double[] Sample(int band)
        {
            using Grid grid = GridFile.Open(path, new GridReadOptions(Band: band));
            return cells.ValuesOf(grid);
        }
    }
}

/// <summary>Cells of even longitude and latitude over a box, row by row from the north-west.</summary>
public sealed record MapCells(int Columns, int Rows, GroundExtent Box)
{
    public static MapCells Of(MapRaster raster) => new(raster.Columns, raster.Rows,
        new GroundExtent(raster.WestDegrees, raster.SouthDegrees, raster.EastDegrees, raster.NorthDegrees));

    /// <summary>The value of the grid's cell under the middle of each; NaN where there is none.</summary>
    /// <exception cref="GridException">The file is damaged.</exception>
    public double[] ValuesOf(Grid grid)
    {
        double[] values = new double[Columns * Rows];
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = grid.TryLocate(MiddleOf(i % Columns, i / Columns), out double column, out double row)
                ? grid.ReadCell(Math.Clamp((int)Math.Floor(column), 0, grid.Columns - 1),
                    Math.Clamp((int)Math.Floor(row), 0, grid.Rows - 1))
                : double.NaN;
        }

        return values;
    }

    public GeoPoint MiddleOf(double column, double row) => new(
        Box.WestDegrees + (column + 0.5) * (Box.EastDegrees - Box.WestDegrees) / Columns,
        Box.NorthDegrees - (row + 0.5) * (Box.NorthDegrees - Box.SouthDegrees) / Rows);
}
