using System.Buffers.Binary;
using System.Diagnostics;

namespace DecayAtlas.Grids.Tests;

/// <summary>Files made to hurt: refused with a sentence, soon, and with little memory.</summary>
public sealed class HostileFileTests
{
    [Fact]
    public void Directories_in_a_circle_are_refused()
    {
        using TestFolder folder = new();
        byte[] bytes = Tiff(folder);
        int directory = BinaryPrimitives.ReadInt32LittleEndian(bytes.AsSpan(4));
        int next = directory + 2 + 12 * BinaryPrimitives.ReadUInt16LittleEndian(bytes.AsSpan(directory));
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(next), directory);
        Assert.Contains("circle", Refusal(folder, "a.tif", bytes), StringComparison.Ordinal);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(next), bytes.Length + 1000);
        Refusal(folder, "b.tif", bytes);
    }

    /// <summary>A BigTIFF of a few hundred bytes that claims a million bands, 2^31 columns or 2^60 values of a tag.</summary>
    [Theory]
    [InlineData(277, 1_000_000UL, 1UL)]
    [InlineData(256, 2_147_483_647UL, 1UL)]
    [InlineData(256, 0UL, 1UL)]
    [InlineData(322, 0UL, 1UL)]
    [InlineData(324, 0UL, 1UL << 60)]
    [InlineData(325, 0UL, 1UL << 33)]
    [InlineData(34735, 0UL, 1UL << 40)]
    public void Claims_beyond_the_file_are_refused(int tag, ulong value, ulong count)
    {
        using TestFolder folder = new();
        (int Tag, ulong Value, ulong Count)[] tags =
        [
            (256, 64, 1), (257, 64, 1), (258, 16, 1), (259, 1, 1), (262, 1, 1), (277, 1, 1), (322, 64, 1), (323, 64, 1), (324, 16, 1),
                (325, 8192, 1), (339, 2, 1),
        ];
        List<byte> bytes = [.. "II"u8, 43, 0, 8, 0, 0, 0, .. BitConverter.GetBytes(16UL), .. BitConverter.GetBytes((ulong)tags.Length)];
        foreach ((int known, ulong usual, ulong once) in tags)
        {
            bool wrong = known == tag;
            bytes.AddRange(BitConverter.GetBytes((ushort)known));
            bytes.AddRange(BitConverter.GetBytes((ushort)16)); // 64-bit numbers
            bytes.AddRange(BitConverter.GetBytes(wrong ? count : once));
            bytes.AddRange(BitConverter.GetBytes(wrong ? value : usual));
        }

        bytes.AddRange(new byte[8]);
        Refusal(folder, "big.tif", [.. bytes]);
    }

    [Fact]
    public void A_geotransform_that_is_not_a_number_is_refused()
    {
        using TestFolder folder = new();
        foreach (double bad in (double[])[double.NaN, double.PositiveInfinity, 1e300, -1, 0])
        {
            byte[] bytes = Tiff(folder);
            int at = bytes.AsSpan().IndexOf(BitConverter.GetBytes(0.125));
            BitConverter.GetBytes(bad).CopyTo(bytes, at);
            Refusal(folder, "nan.tif", bytes);
        }
    }

    [Fact]
    public void A_block_that_unpacks_to_a_thousand_times_its_size_stops_at_the_size_of_a_block()
    {
        using TestFolder folder = new();
        byte[] bytes = Tiff(folder);
        using MemoryStream bomb = new();
        using (System.IO.Compression.ZLibStream deflate = new(bomb, System.IO.Compression.CompressionLevel.SmallestSize, leaveOpen: true))
        {
            byte[] zeros = new byte[1 << 20];
            for (int i = 0; i < 64; i++)
                deflate.Write(zeros);
        }

        // The first tile of the file is replaced by 64 MB of zeros packed small: 256 x 256 of them are read.
        byte[] packed = bomb.ToArray();
        int start = bytes.AsSpan().IndexOf((byte)0x78);
        byte[] longer = [.. bytes, .. packed];
        int directory = BinaryPrimitives.ReadInt32LittleEndian(longer.AsSpan(4));
        for (int i = 0; i < BinaryPrimitives.ReadUInt16LittleEndian(longer.AsSpan(directory)); i++)
        {
            Span<byte> entry = longer.AsSpan(directory + 2 + 12 * i, 12);
            int tag = BinaryPrimitives.ReadUInt16LittleEndian(entry);
            if (tag is 324 or 325)
                BinaryPrimitives.WriteUInt32LittleEndian(entry[8..], (uint)(tag == 324 ? bytes.Length : packed.Length));
        }

        Assert.True(start > 0);
        File.WriteAllBytes(folder.File("bomb.tif"), longer);
        long before = GC.GetAllocatedBytesForCurrentThread();
        using Grid grid = GridFile.Open(folder.File("bomb.tif"));
        Assert.Equal(0, grid.ReadCell(3, 3), 1e-30);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 16 << 20);
    }

    [Theory]
    [InlineData("bcsd_obs_1999.nc")]
    [InlineData("bcsd_obs_1999_nc4.nc")]
    public void A_NetCDF_file_cut_off_or_with_bytes_flipped_gives_values_or_a_sentence(string name)
    {
        using TestFolder folder = new();
        byte[] whole = File.ReadAllBytes(TestFolder.Data(name));
        Random random = new(17);
        Stopwatch clock = Stopwatch.StartNew();
        int refused = 0;
        for (int trial = 0; trial < 240; trial++)
        {
            byte[] damaged = trial % 3 == 0 ? whole[..random.Next(whole.Length)] : [.. whole];
            for (int flips = random.Next(1, 8); flips > 0 && trial % 3 != 0; flips--)
            {
                damaged[random.Next(2) == 0 ? random.Next(damaged.Length) : random.Next(Math.Min(damaged.Length, 6000))] =
                    (byte)random.Next(256);
            }

            string path = folder.File("damaged.nc");
            File.WriteAllBytes(path, damaged);
            try
            {
                using Grid grid =
                    GridFile.Open(path, new GridReadOptions(Variable: "tas", Select: new Dictionary<string, string> { ["time"] = "#7" }));
                grid.ReadCell(0, 0);
                grid.ReadCell(grid.Columns - 1, grid.Rows - 1);
            }
            catch (GridException e)
            {
                Assert.Contains(path, e.Message, StringComparison.Ordinal);
                refused++;
            }
        }

        Assert.InRange(refused, 60, 240);
        Assert.InRange(clock.Elapsed.TotalSeconds, 0, 120); // a second or two; the bound is for endless loops
    }

    [Fact]
    public void A_NetCDF_header_that_claims_more_than_the_file_has_is_refused_before_memory_is_taken()
    {
        using TestFolder folder = new();
        byte[] whole = File.ReadAllBytes(TestFolder.Data("bcsd_obs_1999.nc"));
        for (int at = 4; at < 400; at += 4)
        {
            byte[] bytes = [.. whole];
            BinaryPrimitives.WriteInt32BigEndian(bytes.AsSpan(at), 0x7FFFFFF0);
            string path = folder.File("claims.nc");
            File.WriteAllBytes(path, bytes);
            long before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                GridFile.Open(path, new GridReadOptions(Variable: "tas", Select: new Dictionary<string, string> { ["time"] = "#7" }))
                    .Dispose();
            }
            catch (GridException)
            {
                // the sentence is checked above; here memory is
            }

            Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 16 << 20);
        }
    }

    private static byte[] Tiff(TestFolder folder)
    {
        float[] values = [.. Enumerable.Range(0, 200 * 100).Select(i => i % 91 / 4f)];
        GeoTiffWriter.WriteSingle(folder.File("o.tif"), new GridLattice(200, 100, 0, 30, 0.125, 0.125), values, new GeoTiffBand("x", "m"));
        return File.ReadAllBytes(folder.File("o.tif"));
    }

    private static string Refusal(TestFolder folder, string name, byte[] bytes)
    {
        File.WriteAllBytes(folder.File(name), bytes);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Stopwatch clock = Stopwatch.StartNew();
        GridException e = Assert.Throws<GridException>(() => GridFile.Open(folder.File(name)).ReadCell(0, 0));
        Assert.InRange(clock.Elapsed.TotalSeconds, 0, 60); // milliseconds; the bound is for endless loops
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 32 << 20);
        return e.Message;
    }
}
