namespace DecayAtlas.Prediction.Tests;

/// <summary>
/// An invented island with four covariate grids of two resolutions, and sites on it whose rate follows a known response.
/// The sites keep to the warmer parts, so that the coldest heights lie outside the training range.
/// </summary>
internal sealed class InventedIsland : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly BoundingBox _extent;

    public InventedIsland(int columns, int rows, BoundingBox extent, int sites = 220)
    {
        _extent = extent;
        GridLattice fine = Geometry(columns, rows);
        GridLattice coarse = Geometry((columns + 3) / 4, (rows + 3) / 4);
        Entries =
        [
            Entry("temperature", "Mean temperature", "degC", fine, (u, v) => 19 - 12 * Height(u, v) - 3 * v, SamplingRule.Bilinear),
            Entry("moisture", "Soil moisture", "1",
                fine, (u, v) => 0.25 + 0.2 * Math.Sin(5 * u + 1) * Math.Cos(4 * v) + 0.1 * Height(u, v), SamplingRule.Nearest),
            Entry("acidity", "Soil pH", "pH", coarse, (u, v) => 5.5 + Math.Cos(7 * u) * Math.Sin(6 * v), SamplingRule.Bilinear),
            Entry("clay", "Clay", "percent", coarse, (u, v) => 20 + 10 * Math.Sin(9 * u * v), SamplingRule.Nearest),
        ];
        Training = Train(sites);
    }

    public IReadOnlyList<CatalogueEntry> Entries { get; }

    public TrainingSet Training { get; }

    public IReadOnlyList<GeoPoint> Sites => [.. Training.Rows.Select(r => new GeoPoint(r.LongitudeDegrees, r.LatitudeDegrees)).Distinct()];

    public string Of(params string[] parts) => _folder.Of(parts);

    public void Dispose() => _folder.Dispose();

    private static double Truth(double[] x) => -4.6 + 0.09 * (x[0] - 12) + 1.8 * (x[1] - 0.25) - 0.12 * (x[2] - 5.5) * (x[2] - 5.5);

    /// <summary>0 at the shore to about 1 at the peak; below 0 is sea. u and v run 0..1 from west and from north.</summary>
    private static double Height(double u, double v)
    {
        double x = 2 * u - 1, y = 2 * v - 1, angle = Math.Atan2(y, x);
        double shore = 0.72 + 0.1 * Math.Sin(3 * angle + 1) + 0.06 * Math.Sin(7 * angle) + 0.03 * Math.Sin(13 * angle + 2);
        double main = 1 - Math.Sqrt(x * x + y * y) / shore;
        double islet = 1 - Math.Sqrt((x - 0.82) * (x - 0.82) + (y - 0.8) * (y - 0.8)) / 0.13;
        return Math.Max(main, islet * 0.3);
    }

    private GridLattice Geometry(int columns, int rows) => new(
        columns, rows, _extent.WestDegrees, _extent.NorthDegrees,
        (_extent.EastDegrees - _extent.WestDegrees) / columns, (_extent.NorthDegrees - _extent.SouthDegrees) / rows);

    private CatalogueEntry Entry(string name, string title, string unit, GridLattice geometry, Func<double, double, double> value,
        SamplingRule rule)
    {
        float[] cells = new float[geometry.Columns * geometry.Rows];
        for (int row = 0; row < geometry.Rows; row++)
        {
            for (int column = 0; column < geometry.Columns; column++)
            {
                double u = (column + 0.5) / geometry.Columns, v = (row + 0.5) / geometry.Rows;
                // The coarse grids reach a little over the shore, as real ones do.
                bool land = Height(u, v) > (geometry.Columns < 100 ? -0.1 : 0);
                cells[row * geometry.Columns + column] = land ? (float)value(u, v) : float.NaN;
            }
        }

        string path = _folder.Of(name + ".tif");
        GeoTiffWriter.WriteSingle(path, geometry, cells, new(name, unit));
        return new(name, title, path, 1, unit, rule, false, null, null, null, null, "invented for tests");
    }

    private TrainingSet Train(int sites)
    {
        Random random = new(11);
        List<GeoPoint> points = new();
        while (points.Count < sites)
        {
            double u = random.NextDouble(), v = random.NextDouble(), height = Height(u, v);
            if (height is > 0.02 and < 0.62)
            {
                points.Add(
                    new(_extent.WestDegrees + u * (_extent.EastDegrees - _extent.WestDegrees),
                        _extent.NorthDegrees - v * (_extent.NorthDegrees - _extent.SouthDegrees)));
            }
        }
        List<IReadOnlyList<GridSample>> values = Entries.Select(e =>
        {
            using Grid grid = e.Made.Layers[0].Open();
            return GridSampler.Sample(grid, points, e.Rule, null);
        }).ToList();
        List<TrainingRow> rows = new();
        for (int i = 0; i < points.Count; i++)
        {
            if (values.Any(v => v[i].Value is null))
                continue;
            double[] x = values.Select(v => v[i].Value!.Value).ToArray();
            rows.Add(new($"site-{i:000}", "first", points[i].LatitudeDegrees,
                points[i].LongitudeDegrees, Truth(x) + 0.15 * (random.NextDouble() - 0.5), 1,
                new(2022, 5, 1), new(2022, 8, 1), x));
        }
        return new([.. Entries.Select(e => new CovariateInfo(e.Name, e.Unit, e.Title))], rows,
            "2026-01-a1b2c3d4", points.Count - rows.Count);
    }
}
