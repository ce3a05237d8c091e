using System.Globalization;
using static DecayAtlas.Grids.Tests.GdalSource;

namespace DecayAtlas.Grids.Tests;

/// <summary>Rasters over the option matrix at 200 random points each, against what R terra extracts: nearest exact, bilinear to a
/// millionth.</summary>
public sealed class TerraMatrixTests
{
    [Fact]
    public void Forty_rasters_at_two_hundred_points_give_what_terra_extracts()
    {
        Gdal.SkipUnlessInstalled();
        Terra.SkipUnlessInstalled();
        using TestFolder folder = new();
        List<(string File, int Band)> jobs = [];
        int n = 0;
        // terra 1.7 takes unsigned numbers beyond 2^31 for missing, and reads neither 64-bit whole numbers nor GDAL 3.6's signed bytes.
        foreach (string type in (string[])["Byte", "UInt16", "Int16", "Int32", "Float32", "Float64"])
        {
            string source = Write(folder, Content(type));
            foreach (string compression in (string[])["NONE", "LZW", "DEFLATE", "PACKBITS", "ZSTD", "LZW", "DEFLATE"])
            {
                bool isFloat = type.StartsWith("Float", StringComparison.Ordinal), big = n % 5 == 0;
                List<string> options = ["-ot", type, "-a_nodata", Missing.ToString(CultureInfo.InvariantCulture),
                    "-co", $"COMPRESS={compression}", "-co", $"INTERLEAVE={(n % 2 == 0 ? "BAND" : "PIXEL")}"];
                options.AddRange(n % 3 == 0 ? ["-co", "BLOCKYSIZE=7"]
                    : ["-co", "TILED=YES", "-co", "BLOCKXSIZE=32", "-co", "BLOCKYSIZE=16"]);
                options.AddRange(big ? ["-co", "ENDIANNESS=BIG"] : ["-co", "BIGTIFF=YES"]);
                if (compression is "LZW" or "DEFLATE" or "ZSTD" && !(isFloat && big))
                    options.AddRange(["-co", $"PREDICTOR={(isFloat ? 3 : 2)}"]);

                // Scale and offset, and pixel is point, turn up too.
                options.AddRange(n % 4 == 1 ? ["-a_scale", "0.25", "-a_offset", "-7"] : n % 4 == 3 ? ["-mo", "AREA_OR_POINT=Point"] : []);
                jobs.Add(($"g{n}.tif", 1 + n % Bands));
                Gdal.Translate(source, folder.File($"g{n}.tif"), [.. options]);
                n++;
            }
        }

        Assert.InRange(jobs.Count, 40, 50);
        GeoPoint[] points = RandomPoints(200);
        IReadOnlyList<(double? Nearest, double? Bilinear)[]> peer = Terra.Extract(folder, jobs, points);
        int interpolated = 0;
        for (int j = 0; j < jobs.Count; j++)
        {
            using Grid grid = GridFile.Open(folder.File(jobs[j].File), new GridReadOptions(jobs[j].Band));
            IReadOnlyList<GridSample> nearest = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
            IReadOnlyList<GridSample> bilinear = GridSampler.Sample(grid, points, SamplingRule.Bilinear, null);
            for (int i = 0; i < points.Length; i++)
            {
                Assert.True(
                    peer[j][i].Nearest is null == nearest[i].Value is null, $"{jobs[j]} at {points[i]}: {peer[j][i].Nearest} and "
                    + $"{nearest[i].Value}");
                if (nearest[i].Value is { } value)
                    Assert.Equal(peer[j][i].Nearest!.Value, value, 1e-14 * Math.Abs(value));

                // Beside a missing cell and beyond the outermost centres terra goes on with what it has; here one cell is taken and said
                // so.
                if (bilinear[i].Rule == SamplingRule.Bilinear)
                {
                    interpolated++;
                    Assert.Equal(peer[j][i].Bilinear!.Value,
                        bilinear[i].Value!.Value, 1e-6 * Math.Max(1, Math.Abs(peer[j][i].Bilinear!.Value)));
                }
            }
        }

        Assert.InRange(interpolated, 40 * 100, 50 * 200);
    }
}
