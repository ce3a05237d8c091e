using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>How a grid's cells become a map's, against GDAL's warper and the point sampler (which is held against GDAL
/// elsewhere).</summary>
public sealed class ResamplingTests : IDisposable
{
    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    // near the equator, where a degree of longitude is as wide in every row: GDAL does not weight rows by the ground
    private static readonly GridLattice Fine = new(230, 190, 10, 1, 0.01, 0.01);

    private static double Value(int column, int row) =>
        Math.Round(50 + 30 * Math.Sin(column * 0.11) * Math.Cos(row * 0.07) + (column * 7 + row * 13) % 5);

    [Theory]
    [InlineData(false, "average")]
    [InlineData(true, "mode")]
    public void Larger_cells_take_the_mean_or_the_commonest_class_as_gdalwarp_does(bool isClass, string method)
    {
        Gdal.SkipUnlessInstalled();
        string path = Write(Fine, isClass ? (c, r) => Value(c, r) % 3 : Value);
        // ten whole cells a side: no two classes tie by a rounding of areas
        GridLattice map = new(20, 17, 10.05, 0.95, 0.1, 0.1);
        Gdal.Run("gdalwarp", null, "-q", "-r", method, "-tr", "0.1", "0.1", "-te", Text(map.West), Text(map.South), Text(map.East),
            Text(map.North),
            path, _folder.File("gdal.tif"));
        using Grid theirs = GridFile.Open(_folder.File("gdal.tif"));
        (double[]? values, Resampling resampling) = Read(path, SamplingRule.Nearest, isClass, new(Projection.Wgs84, map));
        Assert.Equal(isClass ? Resampling.Mode : Resampling.Mean, resampling);
        int differ = 0;
        for (int i = 0; i < values.Length; i++)
        {
            double expected = theirs.ReadCell(i % map.Columns, i / map.Columns);
            if (isClass)
                differ += values[i] == expected ? 0 : 1;
            else
                Assert.Equal(expected, values[i], 2e-3);
        }
        // where two classes tie, GDAL and we may take either
        Assert.InRange(differ, 0, values.Length / 20);
    }

    [Fact]
    public void A_mean_weights_parts_of_cells_and_needs_half_of_the_cell()
    {
        // 4 x 1 cells of 1 degree on the equator; map cells of 1.6 degrees
        string path = Write(new(4, 2, 0, 1, 1, 1), (c, _) => c == 3 ? double.NaN : c + 1);
        (double[]? values, _) = Read(path, SamplingRule.Bilinear, false, new(Projection.Wgs84, new(2, 1, 0, 1, 1.6, 1.6)));
        // 1 whole and 0.6 of the second; then 0.4 of the second, 1 of the third, 0.2 missing
        Assert.Equal((1 * 1 + 2 * 0.6) / 1.6, values[0], 1e-9);
        Assert.Equal((2 * 0.4 + 3) / 1.4, values[1], 1e-9);
        (double[]? sparse, _) = Read(path, SamplingRule.Bilinear, false, new(Projection.Wgs84, new(1, 1, 2.4, 1, 1.6, 1.6)));
        Assert.True(double.IsNaN(sparse[0]));
    }

    [Theory]
    [InlineData(SamplingRule.Nearest)]
    [InlineData(SamplingRule.Bilinear)]
    public void Cells_in_another_system_take_what_the_sampler_finds_at_their_centres(SamplingRule rule)
    {
        string path = Write(new(200, 150, 8, 53, 0.02, 0.02), (c, r) => (c / 9 + r / 7) % 6 == 5 ? double.NaN : Value(c, r));
        GroundLattice lattice = new(Projection.FromText("EPSG:3035"), new(180, 160, 4_200_000, 3_260_000, 1100, 1100));
        (double[]? values, Resampling resampling) = Read(path, rule, false, lattice);
        Assert.Equal(rule == SamplingRule.Bilinear ? Resampling.Bilinear : Resampling.Nearest, resampling);
        using Grid grid = GridFile.Open(path);
        List<GeoPoint> points = Enumerable.Range(0, values.Length).Select(i => lattice.CentreOf(i % 180, i / 180)).ToList();
        IReadOnlyList<GridSample> expected = GridSampler.Sample(grid, points, rule, null);
        for (int i = 0; i < values.Length; i++)
        {
            Assert.Equal(expected[i].Value ?? double.NaN,
                values[i], (a, b) => Math.Abs(a - b) < 1e-9 || (double.IsNaN(a) && double.IsNaN(b)));
        }

        Assert.Contains(values, v => !double.IsNaN(v));
    }

    [Fact]
    public void A_map_over_the_antimeridian_reads_a_world_grid_on_both_sides()
    {
        string path = Write(new(720, 360, -180, 90, 0.5, 0.5), (c, r) => c + 1000 * r);
        (double[]? values, Resampling resampling) =
            Read(path, SamplingRule.Nearest, false, new(Projection.Wgs84, new(8, 1, 178, 0, 0.5, 0.5)));
        Assert.Equal(Resampling.Copy, resampling);
        Assert.Equal([716, 717, 718, 719, 0, 1, 2, 3], values.Select(v => v - 180_000));
    }

    private static (double[] Values, Resampling How) Read(string path, SamplingRule rule, bool isClass, GroundLattice lattice)
    {
        using Grid grid = GridFile.Open(path);
        GridReader reader = new(grid, rule, isClass, lattice);
        LatticeTile tile = new(lattice);
        tile.Place(0, 0);
        double[] values = new double[tile.Count];
        reader.Read(tile, values);
        return (values, reader.Resampling);
    }

    private string Write(GridLattice lattice, Func<int, int, double> value)
    {
        string path = _folder.File("g.tif");
        float[] cells = new float[lattice.Columns * lattice.Rows];
        for (int i = 0; i < cells.Length; i++)
            cells[i] = (float)value(i % lattice.Columns, i / lattice.Columns);
        GeoTiffWriter.WriteSingle(path,
            new(lattice.Columns, lattice.Rows, lattice.West, lattice.North, lattice.CellWidth, lattice.CellHeight), cells, new("x", "1"));
        return path;
    }

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
