using System.Globalization;
using static DecayAtlas.Grids.Tests.GdalSource;

namespace DecayAtlas.Grids.Tests;

/// <summary>
/// Rasters made by GDAL over the options that occur in the wild, read here and by gdallocationinfo at the same random
/// points; bilinear values against a brute-force sum over all cells of the known content.
/// </summary>
public sealed class GdalMatrixTests
{
    private static readonly string[] Types = ["Byte", "SignedByte", "UInt16", "Int16", "UInt32", "Int32", "UInt64", "Int64", "Float32",
        "Float64"];
    private static readonly string[] Compressions = ["NONE", "LZW", "DEFLATE", "PACKBITS", "ZSTD"];

    public static TheoryData<string, string, bool, int, string, string> Matrix()
    {
        TheoryData<string, string, bool, int, string, string> rows = [];
        int n = 0;
        foreach (string type in Types)
        {
            foreach (string compression in Compressions)
            {
                // Every type and every compression meets tiles and strips, both interleavings, both byte orders and BigTIFF.
                bool tiled = (n + n / Compressions.Length) % 2 == 0;
                string extra = (n % 4) switch { 0 => "ENDIANNESS=BIG", 1 => "BIGTIFF=YES", _ => "SPARSE_OK=TRUE" };
                bool isFloat = type.StartsWith("Float", StringComparison.Ordinal);
                // libtiff as GDAL 3.6 carries it writes predictor 3 in big-endian files with the bytes the wrong way round.
                bool spoilt = isFloat && extra == "ENDIANNESS=BIG";
                int predictor = !Predicts(compression) || n % 7 == 0 || spoilt ? 1 : isFloat ? 3 : 2;
                rows.Add(type, compression, tiled, predictor, n / 3 % 2 == 0 ? "PIXEL" : "BAND", extra);
                n++;
            }
        }

        return rows;
    }

    [Theory]
    [MemberData(nameof(Matrix))]
    public void Values_are_those_of_GDAL_and_of_brute_force(
        string type, string compression, bool tiled, int predictor, string interleave, string extra)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        double[] content = Content(type);
        string source = Write(folder, content);
        if (type == "SignedByte")
        {
            // GDAL 3.6 moves signed bytes as the bits of unsigned ones.
            content = [.. content.Select(v => v > 127 ? v - 256 : v)];
        }

        string path = folder.File("grid.tif");
        List<string> options =
            ["-a_nodata", Missing.ToString(CultureInfo.InvariantCulture), "-co", $"COMPRESS={compression}",
            "-co", $"INTERLEAVE={interleave}", "-co", extra];
        options.AddRange(type == "SignedByte" ? ["-ot", "Byte", "-co", "PIXELTYPE=SIGNEDBYTE"] : ["-ot", type]);
        options.AddRange(tiled
            ? ["-co", "TILED=YES", "-co", "BLOCKXSIZE=16", "-co", "BLOCKYSIZE=32"]
            : ["-co", "BLOCKYSIZE=5"]);
        if (Predicts(compression))
            options.AddRange(["-co", $"PREDICTOR={predictor}"]);

        Gdal.Translate(source, path, [.. options]);
        int band = tiled ? 2 : 3;
        GeoPoint[] points = RandomPoints(200);
        double?[] expected = Gdal.ValuesAt(path, points, band);
        using Grid grid = GridFile.Open(path, new GridReadOptions(band));
        Assert.Equal(new GridLattice(Columns, Rows, West, North, Cell, Cell), grid.LatticeInDegrees);
        Assert.Equal(tiled ? (16, 32) : (Columns, 5), (grid.BlockColumns, grid.BlockRows));
        IReadOnlyList<GridSample> nearest = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
        IReadOnlyList<GridSample> bilinear = GridSampler.Sample(grid, points, SamplingRule.Bilinear, null);
        int interpolated = 0;
        for (int i = 0; i < points.Length; i++)
        {
            // GDAL 3.6 prints the bits of a signed byte as an unsigned one.
            double? value = type == "SignedByte" && expected[i] > 127 ? expected[i] - 256 : expected[i];
            Assert.Equal(value == Missing, nearest[i].Value is null);
            if (nearest[i].Value is { } sampled)
            {
                // gdallocationinfo prints 15 significant digits.
                Assert.Equal(value!.Value, sampled, 1e-14 * Math.Abs(sampled));
            }

            double brute = BruteForce(content, band, points[i]);
            Assert.Equal(double.IsNaN(brute) ? SamplingRule.Nearest : SamplingRule.Bilinear, bilinear[i].Rule);
            if (double.IsNaN(brute))
            {
                Assert.Equal(nearest[i], bilinear[i]);
            }
            else
            {
                interpolated++;
                Assert.Equal(brute, bilinear[i].Value!.Value, 1e-9 * Math.Max(1, Math.Abs(brute)));
            }
        }

        Assert.InRange(interpolated, 100, 199);
    }

    [Fact]
    public void Pixel_is_point_scale_offset_and_a_missing_value_that_single_precision_rounds_are_read_as_GDAL_does()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        double[] content = Content("Float32");
        content[100] = 0.1f;
        string path = folder.File("point.tif");
        Gdal.Translate(
            Write(folder, content), path, "-ot", "Float32", "-mo", "AREA_OR_POINT=Point", "-a_scale", "0.5", "-a_offset", "-3",
            "-a_nodata", "0.1");
        GeoPoint[] points = [.. RandomPoints(100),
            new GridLattice(Columns, Rows, West, North, Cell, Cell).CentreOf(100 % Columns, 100 / Columns)];
        double?[] stored = Gdal.ValuesAt(path, points, 1);
        using Grid grid = GridFile.Open(path);
        Assert.Equal(West, grid.LatticeInDegrees.West, 1e-12);
        Assert.Equal(North, grid.LatticeInDegrees.North, 1e-12);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
        for (int i = 0; i < 100; i++)
            Assert.Equal(stored[i] * 0.5 - 3, samples[i].Value);

        Assert.Equal(SampleStatus.Missing, samples[100].Status);
        using Grid overridden = GridFile.Open(path, new GridReadOptions(Scale: 2, Offset: 0, MissingValue: 1e30));
        Assert.Equal(2 * (double)0.1f, GridSampler.Sample(overridden, [points[100]], SamplingRule.Nearest, null)[0].Value);
    }

    [Fact]
    public void Blocks_that_were_never_written_are_missing()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string path = folder.File("sparse.tif");
        Gdal.Run(
            "gdal_create", null, "-q", "-outsize", "64", "48", "-ot", "Int16", "-a_srs", "EPSG:4326", "-a_ullr", "0", "48", "64", "0",
            "-a_nodata", "-1", "-co", "SPARSE_OK=TRUE", "-co", "TILED=YES", "-co", "BLOCKXSIZE=16", "-co", "BLOCKYSIZE=16", path);
        using Grid grid = GridFile.Open(path);
        Assert.Equal(SampleStatus.Missing, GridSampler.Sample(grid, [new GeoPoint(10, 10)], SamplingRule.Nearest, null)[0].Status);
    }

    [Fact]
    public void A_mask_inside_the_file_makes_cells_missing()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        double[] content = Content("Float32");
        string source = Write(folder, content);
        foreach (string[] options in (string[][])[["-co", "TILED=YES", "-co", "BLOCKXSIZE=16", "-co", "BLOCKYSIZE=32"], ["-co",
            "COMPRESS=LZW"], ["-co", "COMPRESS=ZSTD", "-co", "ENDIANNESS=BIG", "-co", "BIGTIFF=YES"]])
        {
            // The source says where it is missing; the mask keeps it when the missing value itself is taken out.
            string path = folder.File("masked.tif");
            string masked = folder.Write("masked.vrt", File.ReadAllText(source).Replace(
                "</VRTRasterBand></VRTDataset>",
                $"""
                </VRTRasterBand><MaskBand><VRTRasterBand dataType="Byte" subClass="VRTRawRasterBand"><SourceFilename relativeToVRT="1">mask.bin</SourceFilename>
                <ImageOffset>0</ImageOffset><PixelOffset>1</PixelOffset><LineOffset>{Columns}</LineOffset></VRTRasterBand></MaskBand></VRTDataset>
                """, StringComparison.Ordinal));
            File.WriteAllBytes(folder.File("mask.bin"), [.. Enumerable.Range(0, Columns * Rows).Select(i => (byte)(i % 7 < 2 ? 0 : 255))]);
            Gdal.Translate(masked, path, ["-ot", "Float32", "--config", "GDAL_TIFF_INTERNAL_MASK", "YES", .. options]);
            Assert.Contains("PER_DATASET", Gdal.Run("gdalinfo", null, path), StringComparison.Ordinal);
            using Grid grid = GridFile.Open(path, new GridReadOptions(Band: 2));
            double[] values = new double[Columns * Rows];
            grid.ReadWindow(0, 0, Columns, Rows, values);
            Assert.Equal(Enumerable.Range(0, values.Length).Select(i => i % 7 < 2 ? double.NaN : content[Columns * Rows + i]), values);
        }
    }

    [Fact]
    public void Numbers_of_16_bits_with_a_point_are_read_and_whole_numbers_beyond_what_a_double_holds_are_refused()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        double[] content = Content("Float32");
        string path = folder.File("half.tif");
        Gdal.Translate(Write(folder, content), path, "-ot", "Float32", "-co", "NBITS=16", "-co", "COMPRESS=DEFLATE", "-co", "PREDICTOR=3",
            "-scale", "-1e6", "1e6", "-100", "100");
        GeoPoint[] points = RandomPoints(100);
        using Grid grid = GridFile.Open(path);
        double?[] stored = Gdal.ValuesAt(path, points, 1);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
        for (int i = 0; i < points.Length; i++)
            Assert.Equal(stored[i]!.Value, samples[i].Value!.Value, 1e-14 * Math.Abs(stored[i]!.Value));

        content[5] = 1L << 60;
        string wide = folder.File("wide.tif");
        Gdal.Translate(Write(folder, content), wide, "-ot", "Int64");
        using Grid whole = GridFile.Open(wide);
        Assert.Contains("cannot be read exactly", Assert.Throws<GridException>(() => whole.ReadCell(5, 0)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_compression_without_a_library_is_refused_by_name()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string path = folder.File("lerc.tif");
        Gdal.Translate(Write(folder, Content("Float32")), path, "-ot", "Float32", "-co", "COMPRESS=LERC");
        Assert.Contains("LERC", Assert.Throws<GridException>(() => GridFile.Open(path)).Message, StringComparison.Ordinal);
    }

    private static bool Predicts(string compression) => compression is "LZW" or "DEFLATE" or "ZSTD";

    /// <summary>Tent weights over every cell of the grid; NaN where the weights do not sum to 1 or touch a missing cell.</summary>
    private static double BruteForce(double[] content, int band, GeoPoint point)
    {
        double sum = 0;
        double weights = 0;
        for (int row = 0; row < Rows; row++)
        {
            for (int column = 0; column < Columns; column++)
            {
                double dx = Math.Abs(point.LongitudeDegrees - (West + (column + 0.5) * Cell)) / Cell;
                double dy = Math.Abs(point.LatitudeDegrees - (North - (row + 0.5) * Cell)) / Cell;
                double weight = Math.Max(0, 1 - dx) * Math.Max(0, 1 - dy);
                if (weight > 0)
                {
                    double value = content[(band - 1) * Rows * Columns + row * Columns + column];
                    sum += weight * (value == Missing ? double.NaN : value);
                    weights += weight;
                }
            }
        }

        return Math.Abs(weights - 1) < 1e-9 ? sum : double.NaN;
    }
}
