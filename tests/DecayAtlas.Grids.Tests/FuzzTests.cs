using System.Diagnostics;

namespace DecayAtlas.Grids.Tests;

/// <summary>Every reader under damaged and invented bytes, seeded: the answer is values or a sentence, soon, in little memory.</summary>
public sealed class FuzzTests
{
    public static TheoryData<string> Seeds =>
        ["lzw", "zstd", "packbits", "deflate-mask", "big-endian", "bigtiff-strips", "ascii", "landcover_albers.tif", "bcsd_obs_1999.nc",
        "bcsd_obs_1999_nc4.nc"];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Damaged_files_are_described_inspected_and_sampled_or_refused(string seed)
    {
        using TestFolder folder = new();
        byte[] whole = Seed(folder, seed);
        Random random = new(97);
        GeoPoint[] points = [new(-5, 55), new(-12.4, 58.2), new(double.NaN, 0), new(double.PositiveInfinity, -91), new(-66, 18),
            new(-80, 35)];
        Stopwatch clock = Stopwatch.StartNew();
        int refused = 0;
        for (int trial = 0; trial < 120; trial++)
        {
            byte[] damaged = Damage(whole, random);
            string path = folder.File("damaged.bin");
            File.WriteAllBytes(path, damaged);
            long before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                GridInspection found = GridInspection.Of(path, new GridReadOptions(Crs: seed == "ascii" ? "EPSG:4326" : null));
                if (found.Refusal is not null)
                {
                    refused++;
                    continue;
                }

                using Grid grid = GridFile.Open(path, found.Options);
                IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, SamplingRule.Bilinear, null);
                Assert.Equal(SampleStatus.Outside, samples[2].Status);
                Assert.Equal(SampleStatus.Outside, samples[3].Status);
            }
            catch (GridException e)
            {
                Assert.Contains(path, e.Message, StringComparison.Ordinal);
                refused++;
            }

            // A header that lies may still ask for the largest block there is: two of 16 million cells, and their bytes. The HDF5
            // library makes an array of any length below 2 GB that a header claims before it finds that the bytes are not there.
            long most = seed.EndsWith("nc4.nc", StringComparison.Ordinal) ? 4L << 30 : 600L << 20;
            Assert.True(GC.GetAllocatedBytesForCurrentThread()
                - before < most, $"trial {trial} took {GC.GetAllocatedBytesForCurrentThread() - before >> 20} MB");
        }

        Assert.InRange(refused, 10, 120);
        Assert.InRange(clock.Elapsed.TotalSeconds, 0, 60); // a second or two; the bound is for endless loops
    }

    private static byte[] Damage(byte[] whole, Random random)
    {
        switch (random.Next(4))
        {
            case 0:
                return whole[..random.Next(1, whole.Length)];
            case 1: // a piece of the file twice
                int from = random.Next(whole.Length), length = random.Next(1, Math.Min(200, whole.Length - from) + 1),
                    at = random.Next(whole.Length);
                return [.. whole[..at], .. whole[from..(from + length)], .. whole[at..]];
            default:
                byte[] damaged = [.. whole];
                for (int flips = random.Next(1, 9); flips > 0; flips--)
                {
                    int place =
                        random.Next(3) switch
                        {
                            0 => random.Next(damaged.Length),
                            1 => random.Next(Math.Min(600, damaged.Length)),
                            _ => damaged.Length - 1 - random.Next(Math.Min(600, damaged.Length))
                        };
                    damaged[place] = random.Next(3) switch { 0 => 0, 1 => 255, _ => (byte)random.Next(256) };
                }

                return damaged;
        }
    }

    private static byte[] Seed(TestFolder folder, string seed)
    {
        if (seed.Contains('.', StringComparison.Ordinal))
            return File.ReadAllBytes(TestFolder.Data(seed));

        if (seed == "ascii")
        {
            return [.. "ncols 40\nnrows 30\nxllcorner -12.5\nyllcorner 50\ncellsize 0.25\nNODATA_value -9999\n"u8,
                .. System.Text.Encoding.ASCII
                    .GetBytes(string.Join(' ', Enumerable.Range(0, 1200).Select(i => i % 17 == 0 ? "-9999" : $"{i % 300}.5")))];
        }

        Gdal.SkipUnlessInstalled();
        string path = folder.File("seed.tif");
        Gdal.Translate(GdalSource.Write(folder, GdalSource.Content("Int16")), path, ["-ot", "Int16", .. (string[])(seed switch
        {
            "lzw" => ["-co", "COMPRESS=LZW", "-co", "PREDICTOR=2", "-co", "TILED=YES", "-co", "BLOCKXSIZE=16", "-co", "BLOCKYSIZE=16"],
            "zstd" => ["-co", "COMPRESS=ZSTD", "-co", "INTERLEAVE=BAND"],
            "packbits" => ["-co", "COMPRESS=PACKBITS"],
            "deflate-mask" => ["-co", "COMPRESS=DEFLATE", "-b", "1", "-mask", "2", "--config", "GDAL_TIFF_INTERNAL_MASK", "YES"],
            "big-endian" => ["-co", "ENDIANNESS=BIG", "-co", "COMPRESS=DEFLATE"],
            _ => ["-co", "BIGTIFF=YES", "-co", "BLOCKYSIZE=3"],
        })]);
        return File.ReadAllBytes(path);
    }
}
