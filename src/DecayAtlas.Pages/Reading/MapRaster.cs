namespace DecayAtlas.Pages.Reading;

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
        double width = extent.EastDegrees - extent.WestDegrees, height = extent.NorthDegrees - extent.SouthDegrees;
        double thin = Math.Max(1, Math.Sqrt((double)first.Columns * first.Rows / MaxCells));
        int columns = Math.Max(1, (int)Math.Floor(first.Columns / thin)), rows = Math.Max(1, (int)Math.Floor(first.Rows / thin));

        return new MapRaster(columns, rows, extent.WestDegrees, extent.SouthDegrees, extent.EastDegrees, extent.NorthDegrees, thin > 1,
            Sample(1), Named("lower"), Named("upper"), Named("applicab") ?? Named("within_training_range"));

        double[]? Named(string name) =>
            bands.FirstOrDefault(b => b.Title?.Contains(name, StringComparison.OrdinalIgnoreCase) == true) is { } band ? Sample(band.Band)
            : null;

        double[] Sample(int band)
        {
            using Grid grid = GridFile.Open(path, new GridReadOptions(Band: band));
            double[] values = new double[columns * rows];
            for (int i = 0; i < values.Length; i++)
            {
                GeoPoint place = new(extent.WestDegrees + (i % columns + 0.5) * width / columns,
                    extent.NorthDegrees - (i / columns + 0.5) * height / rows);
                values[i] = grid.TryLocate(place, out double column, out double row)
                    ? grid.ReadCell(Math.Clamp((int)Math.Floor(column), 0, grid.Columns - 1),
                        Math.Clamp((int)Math.Floor(row), 0, grid.Rows - 1))
                    : double.NaN;
            }

            return values;
        }
    }
}
