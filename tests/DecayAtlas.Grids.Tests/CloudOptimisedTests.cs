using System.Globalization;
using System.Text.Json.Nodes;
using DecayAtlas.Grids.Formats.TiffReading;

namespace DecayAtlas.Grids.Tests;

/// <summary>What a program that reads by ranges relies on, held against GDAL's validator and by an own reading of offsets.</summary>
public sealed class CloudOptimisedTests
{
    private const string Validator = "from osgeo_utils.samples.validate_cloud_optimized_geotiff import validate";

    private static readonly GridLattice Lattice = new(1100, 700, 10, 60, 0.01, 0.01);

    private static readonly GeoTiffBand[] Amounts = [new("rate", "d-1"), new("applicable", "1", IsFlag: true)];

    private static readonly GeoTiffBand[] Packed = [new("warmth", "degC", 0.1, 5), new("cover", "", 1, IsClass: true)];

    private static readonly string[] TwoLevels = ["ours", "gdal"];

    /// <summary>Amounts as waves with holes, flags scattered, classes in patches of uneven width.</summary>
    private static float Value(int band, int column, int row) => (column / 45 + row / 30) % 5 == 4 ? float.NaN : band == 0
        ? (float)(1 + Math.Sin(column * 0.01) * Math.Cos(row * 0.013))
        : (column * 7 + row * 3) % 11 < 6 ? 1 : 0;

    private static void Write(string path, GeoTiffBand[] bands, long classicBytes = GeoTiffWriter.ClassicBytes, int skipped = -1)
    {
        using GeoTiffWriter writer = new(path, Projection.Wgs84, Lattice, bands, null, overviews: true, classicBytes);
        for (int tile = 0; tile < writer.TilesAcross * writer.TilesDown; tile++)
        {
            int column = tile % writer.TilesAcross * 256, row = tile / writer.TilesAcross * 256;
            if (tile != skipped)
            {
                writer.WriteTiles(column / 256, row / 256, [.. bands.Select((_, band) => Enumerable.Range(0, 256 * 256)
                    .Select(i => Value(band, column + i % 256, row + i / 256)).ToArray())]);
            }
        }
    }

    [Theory]
    [InlineData(false, GeoTiffWriter.ClassicBytes, -1)]
    [InlineData(false, 1000, 2)]
    [InlineData(true, GeoTiffWriter.ClassicBytes, 0)]
    public void Validator_of_GDAL_finds_nothing(bool isPacked, long classicBytes, int skipped)
    {
        External.SkipUnlessPython(Validator);
        using TestFolder folder = new();
        Write(folder.File("ours.tif"), isPacked ? Packed : Amounts, classicBytes, skipped);
        Assert.Equal("[] []", Validate(folder.File("ours.tif")));

        // and would find it: overviews that gdaladdo hangs on behind
        Gdal.Translate(folder.File("ours.tif"), folder.File("late.tif"), "-co", "TILED=YES", "-co", "COPY_SRC_OVERVIEWS=NO");
        Gdal.Run("gdaladdo", null, "-q", folder.File("late.tif"), "2");
        Assert.NotEqual("[] []", Validate(folder.File("late.tif")));

        static string Validate(string path) => Gdal.Run("/usr/bin/python3", null, "-c",
            Validator + "; import sys; w, e, d = validate(sys.argv[1], full_check=True); print(w, e)", path).Trim();
    }

    /// <summary>The rules as GDAL's page on its COG driver states them: directories by falling size right behind the header, then tiles by
    /// rising size, row by row.</summary>
    [Theory]
    [InlineData(GeoTiffWriter.ClassicBytes, 8)]
    [InlineData(1000, 16)]
    public void Directories_stand_first_and_tiles_follow_from_the_smallest_overview_on(long classicBytes, int header)
    {
        using TestFolder folder = new();
        string path = folder.File("ours.tif");
        Write(path, Amounts, classicBytes, skipped: 3);
        byte[] bytes = File.ReadAllBytes(path);
        Assert.Equal(header, header == 8 ? BitConverter.ToUInt32(bytes, 4) : BitConverter.ToInt64(bytes, 8));

        using FileStream stream = File.OpenRead(path);
        TiffDirectory first = TiffDirectory.Read(path, stream);
        TiffDirectory[] all = [first, .. first.Following()];
        Assert.Equal([1100, 550, 275, 138], all.Select(d => (int)d.Integer(TiffTag.ImageWidth, 0)));
        double[][] levels = [.. all.Reverse().Select(d => d.Numbers(TiffTag.TileOffsets))];
        double[] places = [.. levels.SelectMany(l => l).Where(p => p != 0)];
        Assert.Equal(places.Order(), places);
        Assert.Equal(places.Length, places.Distinct().Count());
        Assert.Equal((0.0, 0.0), (levels[^1][3], levels[^1][3 + 15])); // five by three tiles a band
        Assert.Equal(bytes.Length, places[^1] + all[0].Numbers(TiffTag.TileByteCounts)[^1]);
        // a table, its outlying numbers and the next table leave no gap before the tiles
        Assert.InRange(places[0], header, 8000);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Statistics_are_those_that_GDAL_computes(bool isPacked)
    {
        External.SkipUnlessPython("from osgeo import gdal");
        using TestFolder folder = new();
        string path = folder.File("ours.tif");
        Write(path, isPacked ? Packed : Amounts, skipped: 7);
        JsonNode info = JsonNode.Parse(Gdal.Run("gdalinfo", null, "-json", path))!;
        string[] theirs = Gdal.Run("/usr/bin/python3", null, "-c",
            "import sys; from osgeo import gdal; d = gdal.Open(sys.argv[1]);"
            + "[print(*d.GetRasterBand(b).ComputeStatistics(False)) for b in (1, 2)]", path).Trim().Split('\n');
        for (int band = 0; band < 2; band++)
        {
            JsonNode said = info["bands"]![band]!["metadata"]![""]!;
            double[] computed = [.. theirs[band].Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture))];
            string[] names = ["MINIMUM", "MAXIMUM", "MEAN", "STDDEV"];
            for (int i = 0; i < 4; i++)
            {
                Assert.Equal(computed[i],
                    double.Parse((string)said["STATISTICS_" + names[i]]!, CultureInfo.InvariantCulture), 1e-9 * Math.Abs(computed[i]) + 1e-12);
            }

            long valid = Enumerable.Range(0, 1100 * 700).LongCount(i => (i / 1100 / 256 != 1 || i % 1100 / 256 != 2)
                && !float.IsNaN(Value(band, i % 1100, i / 1100)));
            Assert.Equal((100.0 * valid / (1100 * 700)).ToString("G4", CultureInfo.InvariantCulture),
                (string)said["STATISTICS_VALID_PERCENT"]!);
        }
    }

    /// <summary>Of an odd number of votes there is one winner, of equal votes the class is one of them; gdaladdo -r mode and -r nearest
    /// say the same.</summary>
    [Fact]
    public void Classes_and_flags_are_thinned_as_gdaladdo_thins_them()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        Write(folder.File("classes.tif"), Packed);
        Write(folder.File("flags.tif"), Amounts);
        foreach ((string name, string rule) in ((string, string)[])[("classes", "mode"), ("flags", "nearest")])
        {
            Gdal.Translate(folder.File(name + ".tif"), folder.File("gdal.tif"), "-b", "2", "-co", "COPY_SRC_OVERVIEWS=NO");
            Gdal.Run("gdaladdo", null, "-q", "-r", rule, folder.File("gdal.tif"), "2");
            Gdal.Translate(folder.File(name + ".tif"), folder.File("ours-half.tif"), "-b", "2", "-oo", "OVERVIEW_LEVEL=0");
            Gdal.Translate(folder.File("gdal.tif"), folder.File("gdal-half.tif"), "-oo", "OVERVIEW_LEVEL=0");
            double[][] halves = [.. TwoLevels.Select(which =>
            {
                using Grid grid = GridFile.Open(folder.File(which + "-half.tif"));
                Assert.Equal((550, 350), (grid.Columns, grid.Rows));
                double[] values = new double[550 * 350];
                grid.ReadWindow(0, 0, 550, 350, values);
                return values;
            })];
            int compared = 0;
            for (int i = 0; i < halves[0].Length; i++)
            {
                int column = i % 550 * 2, row = i / 550 * 2;
                float[] four = [Value(1, column, row), Value(1, column + 1, row), Value(1, column, row + 1), Value(1, column + 1, row + 1)];
                float[] valid = [.. four.Where(v => !float.IsNaN(v))];
                if (rule == "mode" ? valid.Length > 0 && valid.Sum() * 2 != valid.Length : !float.IsNaN(four[0]))
                {
                    Assert.Equal(halves[1][i], halves[0][i]);
                    compared++;
                }
                else
                {
                    // a tie, or a hole where the nearest lies: still one of those there
                    Assert.Equal(valid.Length == 0, double.IsNaN(halves[0][i]));
                    Assert.True(valid.Length == 0 || valid.Contains((float)halves[0][i]));
                }
            }

            Assert.InRange(compared, 50_000, 550 * 350);
        }
    }

    [Fact]
    public void Terra_reads_every_layer_with_its_name_unit_and_values()
    {
        Terra.SkipUnlessInstalled();
        using TestFolder folder = new();
        Write(folder.File("ours.tif"), Packed);
        GeoPoint[] points = [Lattice.CentreOf(3, 3), Lattice.CentreOf(600, 400), Lattice.CentreOf(1099, 699)];
        (int Column, int Row)[] cells = [(3, 3), (600, 400), (1099, 699)];
        for (int band = 0; band < 2; band++)
        {
            (double? Nearest, double? Bilinear)[] read = Terra.Extract(folder, [("ours.tif", band + 1)], points)[0];
            for (int i = 0; i < points.Length; i++)
            {
                float truth = Value(band, cells[i].Column, cells[i].Row);
                Assert.Equal(float.IsNaN(truth), read[i].Nearest is null);
                Assert.Equal(float.IsNaN(truth) ? 0 : truth, read[i].Nearest ?? 0, 0.05 + 1e-6); // half of a step of 0.1
            }
        }
    }

    [Fact]
    public void Same_calls_give_the_same_bytes_and_leave_nothing_beside()
    {
        using TestFolder folder = new();
        Write(folder.File("a.tif"), Amounts);
        Write(folder.File("b.tif"), Amounts);
        Assert.Equal(File.ReadAllBytes(folder.File("a.tif")), File.ReadAllBytes(folder.File("b.tif")));
        Assert.Equal(2, Directory.GetFiles(folder.Root).Length);
    }
}
