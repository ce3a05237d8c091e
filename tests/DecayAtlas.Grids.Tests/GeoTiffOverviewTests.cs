using System.Text.Json.Nodes;

namespace DecayAtlas.Grids.Tests;

/// <summary>GeoTIFFs with overviews and in map projections, held against GDAL.</summary>
public sealed class GeoTiffOverviewTests
{
    private const int Columns = 1100;
    private const int Rows = 700;
    private static readonly GeoTiffBand[] Bands = [new("rate", "d-1"), new("applicable", "1", IsFlag: true)];

    private static float Value(int column, int row) => (column / 40 + row / 30) % 5 == 4 ? float.NaN
        : (float)(1 + Math.Sin(column * 0.01) * Math.Cos(row * 0.013));

    private static float Flag(int column, int row) => float.IsNaN(Value(column, row)) ? float.NaN : (column * 7 + row * 3) % 11 < 6 ? 1 : 0;

    private static void Write(string path, Projection projection, GridLattice lattice, long classicBytes = GeoTiffWriter.ClassicBytes)
    {
        using GeoTiffWriter writer = new(path, projection, lattice, Bands, null, overviews: true, classicBytes);
        float[] rates = new float[256 * 256], flags = new float[256 * 256];
        for (int tile = 0; tile < writer.TilesAcross * writer.TilesDown; tile++)
        {
            int column = tile % writer.TilesAcross, row = tile / writer.TilesAcross;
            for (int i = 0; i < rates.Length; i++)
            {
                (rates[i], flags[i]) =
                    (Value(column * 256 + i % 256, row * 256 + i / 256), Flag(column * 256 + i % 256, row * 256 + i / 256));
            }

            writer.WriteTiles(column, row, [rates, flags]);
        }
    }

    [Fact]
    public void What_may_not_fit_a_TIFF_is_a_BigTIFF_with_the_same_values_in_every_level()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        GridLattice lattice = new(Columns, Rows, 10, 60, 0.01, 0.01);
        Write(folder.File("classic.tif"), Projection.Wgs84, lattice);
        Write(folder.File("big.tif"), Projection.Wgs84, lattice, classicBytes: 1000);

        // the third byte tells them apart: 42 by TIFF 6.0, 43 by the BigTIFF design
        Assert.Equal((42, 43), (File.ReadAllBytes(folder.File("classic.tif"))[2], File.ReadAllBytes(folder.File("big.tif"))[2]));
        foreach (string level in (string[])["", "0", "1", "2"])
        {
            string[] one = level.Length == 0 ? [] : ["-oo", "OVERVIEW_LEVEL=" + level];
            Assert.Equal(Checksums("classic.tif"), Checksums("big.tif"));

            string[] Checksums(string name) =>
                [.. Gdal.Run("gdalinfo", null, ["-checksum", .. one, folder.File(name)]).Split('\n')
                    .Where(l => l.Contains("Checksum", StringComparison.Ordinal) || l.StartsWith("Size is", StringComparison.Ordinal))];
        }

        using Grid classic = GridFile.Open(folder.File("classic.tif")), big = GridFile.Open(folder.File("big.tif"));
        Assert.Equal(ReadAll(classic), ReadAll(big));
    }

    [Fact(Explicit = true)] // 6 GB and minutes: by hand only
    public void A_file_of_more_than_4_GiB_is_read_by_GDAL_to_its_last_cell()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        GridLattice lattice = new(33_000, 33_000, 0, 50, 0.001, 0.001);
        using (GeoTiffWriter writer = new(folder.File("w.tif"), Projection.Wgs84, lattice, [new("noise", "1")], null, overviews: true))
        {
            float[] tile = new float[256 * 256];
            Random random = new(1);
            for (int i = 0; i < writer.TilesAcross * writer.TilesDown; i++)
            {
                random.NextBytes(System.Runtime.InteropServices.MemoryMarshal.AsBytes(tile.AsSpan()));
                Array.Fill(tile, i, 0, 256);
                writer.WriteTiles(i % writer.TilesAcross, i / writer.TilesAcross, [tile]);
            }
        }

        Assert.True(new FileInfo(folder.File("w.tif")).Length > 1L << 32);
        double last = 129 * 129 - 1;
        Assert.Equal(last,
            double.Parse(
                Gdal.Run("gdallocationinfo", null, "-valonly", folder.File("w.tif"),
                    "32999", (128 * 256).ToString(System.Globalization.CultureInfo.InvariantCulture)),
                    System.Globalization.CultureInfo.InvariantCulture));
        Assert.Contains("16500x16500", Gdal.Run("gdalinfo", null, folder.File("w.tif")), StringComparison.Ordinal);
    }

    [Fact]
    public void Overviews_are_the_means_that_gdaladdo_makes_and_the_first_of_four_for_yes_or_no()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        GridLattice lattice = new(Columns, Rows, 10, 60, 0.01, 0.01);
        Write(folder.File("ours.tif"), Projection.Wgs84, lattice);
        JsonNode info = JsonNode.Parse(Gdal.Run("gdalinfo", null, "-json", "-checksum", folder.File("ours.tif")))!;
        Assert.Equal(
            ["550x350", "275x175", "138x88"],
            info["bands"]![0]!["overviews"]!.AsArray().Select(o => $"{o!["size"]![0]}x{o["size"]![1]}"));

        // the same first level by GDAL: gdaladdo -r average, and its own reading of both
        Gdal.Run("gdal_translate", null, "-q", "-b", "1", folder.File("ours.tif"), folder.File("gdal.tif"), "-co", "TILED=YES");
        Gdal.Run("gdaladdo", null, "-q", "-r", "average", folder.File("gdal.tif"), "2");
        foreach (string name in (string[])["ours", "gdal"])
        {
            Gdal.Run("gdal_translate", null, "-q", "-b", "1", "-oo", "OVERVIEW_LEVEL=0", folder.File(name + ".tif"),
                folder.File(name + "-half.tif"));
        }

        Gdal.Run("gdal_translate", null, "-q", "-b", "2", "-oo", "OVERVIEW_LEVEL=0", folder.File("ours.tif"),
            folder.File("flags-half.tif"));
        using Grid ours = GridFile.Open(folder.File("ours-half.tif")), theirs = GridFile.Open(folder.File("gdal-half.tif")),
            flags = GridFile.Open(folder.File("flags-half.tif"));
        Assert.Equal((550, 350), (ours.Columns, ours.Rows));
        double[] a = ReadAll(ours), b = ReadAll(theirs), f = ReadAll(flags);
        for (int i = 0; i < a.Length; i++)
        {
            Assert.Equal(b[i], a[i], 1e-6);
            int column = i % 550 * 2, row = i / 550 * 2;
            float[] four = [
                .. new[] { Flag(column, row), Flag(column + 1, row), Flag(column, row + 1),
                    Flag(column + 1, row + 1) }.Where(v => !float.IsNaN(v))];
            Assert.Equal(four.Length == 0 ? double.NaN : four[0], f[i]);
        }
    }

    [Theory]
    [InlineData("EPSG:3035", 1000, 3_000_000, 4_000_000)]
    [InlineData("EPSG:32633", 500, 300_000, 6_200_000)]
    [InlineData("EPSG:6933", 5000, -3_000_000, 4_000_000)]
    [InlineData("EPSG:4258", 0.01, 8, 52)]
    [InlineData("ESRI:54009", 2000, -2_000_000, 5_000_000)]
    [InlineData("ESRI:54008", 2000, -2_000_000, 5_000_000)]
    [InlineData("ESRI:54052", 2000, 1_000_000, 3_000_000)]
    [InlineData("ESRI:102022", 2000, -1_000_000, 3_000_000)]
    public void A_map_in_a_projection_lies_for_GDAL_where_it_lies_for_us(string crs, double cell, double west, double north)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string path = folder.File("p.tif");
        Write(path, Projection.FromText(crs), new GridLattice(Columns, Rows, west, north, cell, cell));
        using Grid grid = GridFile.Open(path);
        (int Column, int Row)[] cells = [(5, 5), (500, 300), (1090, 690)];
        GeoPoint[] points = [.. cells.Select(c => grid.CentreOf(c.Column, c.Row))];
        Assert.All(points, p => Assert.False(double.IsNaN(p.LatitudeDegrees)));
        double?[] theirs = Gdal.ValuesAt(path, points, 1);
        Assert.Equal(cells.Select(c => (double)Value(c.Column, c.Row)),
            theirs.Select(v => v!.Value), (x, y) => Math.Abs(x - y) < 1e-6 || (double.IsNaN(x) && double.IsNaN(y)));
    }

    [Fact]
    public void Tiles_written_together_give_the_bytes_of_tiles_written_alone()
    {
        using TestFolder folder = new();
        GridLattice lattice = new(300, 200, 10, 60, 0.01, 0.01);
        float[] one = [.. Enumerable.Range(0, 256 * 256).Select(i => i * 0.5f)], two = [.. one.Select(v => -v)];
        foreach (bool together in (bool[])[true, false])
        {
            using GeoTiffWriter writer = new(folder.File(together + ".tif"), Projection.Wgs84, lattice, Bands, null, overviews: true);
            for (int column = 0; column < 2; column++)
            {
                if (together)
                {
                    writer.WriteTiles(column, 0, [one, two]);
                }
                else
                {
                    writer.WriteTile(0, column, 0, one);
                    writer.WriteTile(1, column, 0, two);
                }
            }
        }

        Assert.Equal(File.ReadAllBytes(folder.File("True.tif")), File.ReadAllBytes(folder.File("False.tif")));
        Assert.Equal(2, Directory.GetFiles(folder.Root).Length);
    }

    private static double[] ReadAll(Grid grid)
    {
        double[] values = new double[grid.Columns * grid.Rows];
        grid.ReadWindow(0, 0, grid.Columns, grid.Rows, values);
        return values;
    }
}
