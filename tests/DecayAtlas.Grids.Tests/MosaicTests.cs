namespace DecayAtlas.Grids.Tests;

public sealed class MosaicTests
{
    private const int Side = 300;

    [Fact]
    public void Tiles_are_one_grid_with_gaps_missing_and_the_first_of_overlapping_values()
    {
        using TestFolder folder = new();
        Random random = new(6);
        // Seven tiles of a 3 x 3 pattern of 100 cells, the last one overlapping its neighbour by 20 columns.
        List<(string Name, int Column, int Row)> tiles = [("a", 0, 0), ("b", 100, 0), ("c", 200, 0), ("d", 0, 100), ("e", 200, 200),
            ("f", 100, 200), ("g", 180, 100)];
        float[] expected = [.. Enumerable.Repeat(float.NaN, Side * Side)];
        foreach ((string name, int column, int row) in tiles)
        {
            float[] values = [.. Enumerable.Range(0, 100 * 100).Select(_ => random.Next(10) == 0 ? float.NaN : random.Next(1000))];
            GeoTiffWriter.WriteSingle(
                folder.File($"tile_{name}.tif"), new GridLattice(100, 100, 5 + column * 0.05, 60 - row * 0.05, 0.05, 0.05), values,
                new GeoTiffBand("x", ""));
            for (int i = 0; i < values.Length; i++)
            {
                ref float cell = ref expected[(row + i / 100) * Side + column + i % 100];
                cell = float.IsNaN(cell) ? values[i] : cell;
            }
        }

        string pattern = folder.File("tile_?.tif");
        using Grid grid = GridFile.Open(pattern);
        Assert.Equal((Side, Side, 5.0, 60.0), (grid.Columns, grid.Rows, grid.LatticeInDegrees.West, grid.LatticeInDegrees.North));
        double[] read = new double[Side * Side];
        grid.ReadWindow(0, 0, Side, Side, read);
        Assert.Equal(expected.Select(v => (double)v), read);
        GeoPoint[] points = [.. Enumerable.Range(0, 3000)
            .Select(_ => new GeoPoint(5 + random.NextDouble() * 15, 45 + random.NextDouble() * 15))];
        using Grid again = GridFile.Open(pattern);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(again, points, SamplingRule.Nearest, null);
        Assert.All(samples.Zip(points), s =>
        {
            Assert.True(again.TryLocate(s.Second, out double x, out double y));
            Assert.Equal(read[(int)y * Side + (int)x], s.First.Value ?? double.NaN);
        });
        Assert.StartsWith("sha256:", GridFingerprint.OfFile(pattern), StringComparison.Ordinal);
        Assert.NotEqual(GridFingerprint.OfFile(folder.File("tile_a.tif")), GridFingerprint.OfFile(pattern));
    }

    [Fact]
    public void Tiles_that_do_not_fit_together_and_a_pattern_without_files_are_refused()
    {
        using TestFolder folder = new();
        Write(folder, "a.tif", 0, 0.1);
        Write(folder, "b.tif", 1.04, 0.1);
        Assert.Contains("does not lie on the cells", Refusal(folder.File("*.tif")), StringComparison.Ordinal);
        Write(folder, "b.tif", 1, 0.2);
        Assert.Contains("does not lie on the cells", Refusal(folder.File("*.tif")), StringComparison.Ordinal);
        Assert.Contains("no file", Refusal(folder.File("x*.tif")), StringComparison.Ordinal);
        Assert.Contains("no file", Refusal(Path.Combine(folder.Root, "absent", "x*.tif")), StringComparison.Ordinal);
    }

    private static void Write(TestFolder folder, string name, double west, double cell) => GeoTiffWriter.WriteSingle(
        folder.File(name), new GridLattice(10, 10, west, 10, cell, cell), new float[100], new GeoTiffBand("x", ""));

    private static string Refusal(string path) => Assert.Throws<GridException>(() => GridFile.Open(path)).Message;
}
