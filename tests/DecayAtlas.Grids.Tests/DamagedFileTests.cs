using System.Buffers.Binary;

namespace DecayAtlas.Grids.Tests;

/// <summary>Whatever bytes come, the answer is values or a <see cref="GridException"/>, within bounded memory.</summary>
public sealed class DamagedFileTests
{
    public static TheoryData<string> Originals => ["tiled", "bcsd_pr_1999_07.tif", "bcsd_tas_1999_07.tif"];

    [Theory]
    [MemberData(nameof(Originals))]
    public void A_file_cut_off_anywhere_gets_a_sentence_or_its_whole_blocks(string original)
    {
        using TestFolder folder = new();
        byte[] whole = Original(folder, original);
        for (int length = 0; length < whole.Length; length += Math.Max(1, whole.Length / 150))
            ReadAll(folder, whole[..length]);

        Assert.Null(ReadAll(folder, whole));
        Assert.NotNull(ReadAll(folder, whole[..(whole.Length / 2)]));
    }

    [Theory]
    [MemberData(nameof(Originals))]
    public void Flipped_bytes_never_give_another_exception(string original)
    {
        using TestFolder folder = new();
        byte[] whole = Original(folder, original);
        Random random = new(31);
        int refused = 0;
        for (int trial = 0; trial < 300; trial++)
        {
            byte[] damaged = [.. whole];
            for (int flips = random.Next(1, 6); flips > 0; flips--)
            {
                // Half of the flips hit the header and the directory, wherever the writer put it.
                int at = random.Next(2) == 0 ? random.Next(damaged.Length)
                    : random.Next(2) == 0 ? random.Next(400) : damaged.Length - 1 - random.Next(900);
                damaged[at] = (byte)random.Next(256);
            }

            refused += ReadAll(folder, damaged) is null ? 0 : 1;
        }

        Assert.InRange(refused, 25, 300);
    }

    [Theory]
    [InlineData(256, 2_000_000_000u)] // columns
    [InlineData(257, 4_000_000_000u)] // rows
    [InlineData(322, 0u)] // tile width
    [InlineData(323, 0u)] // tile length
    [InlineData(322, 1_000_000_000u)]
    [InlineData(277, 60_000u)] // bands
    [InlineData(259, 7u)] // compression: JPEG
    [InlineData(317, 9u)] // predictor
    public void Absurd_numbers_in_the_directory_are_refused_before_memory_is_taken(int tag, uint value)
    {
        using TestFolder folder = new();
        byte[] bytes = Original(folder, "tiled");
        Patch(bytes, tag, value);
        long before = GC.GetTotalAllocatedBytes(precise: true);
        string? sentence = ReadAll(folder, bytes);
        Assert.NotNull(sentence);
        Assert.InRange(GC.GetTotalAllocatedBytes(precise: true) - before, 0, 64 << 20);
    }

    [Fact]
    public void A_file_of_the_wrong_kind_an_absent_file_and_an_absent_band_are_said()
    {
        using TestFolder folder = new();
        Assert.Contains("neither a TIFF", Refusal(folder.Write("a.tif", "PK\u0003\u0004 a zip")), StringComparison.Ordinal);
        Assert.Contains("no such file", Refusal(folder.File("absent.tif")), StringComparison.Ordinal);
        Assert.Contains("cannot be opened", Refusal(folder.Root), StringComparison.Ordinal);
        GridException e = Assert.Throws<GridException>(
            () => GridFile.Open(TestFolder.Data("bcsd_pr_1999_07.tif"), new GridReadOptions(Band: 2)));
        Assert.Contains("1 band(s), and band 2", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_printed_when_a_file_is_damaged()
    {
        using TestFolder folder = new();
        TextWriter before = Console.Error;
        using StringWriter heard = new();
        Console.SetError(heard);
        try
        {
            byte[] bytes = Original(folder, "bcsd_tas_1999_07.tif");
            bytes.AsSpan(bytes.Length / 3, bytes.Length / 3).Fill(0xFF);
            Assert.NotNull(ReadAll(folder, bytes));
        }
        finally
        {
            Console.SetError(before);
        }

        Assert.Equal("", heard.ToString());
    }

    private static string Refusal(string path) => Assert.Throws<GridException>(() => GridFile.Open(path)).Message;

    private static byte[] Original(TestFolder folder, string name)
    {
        if (name != "tiled")
            return File.ReadAllBytes(TestFolder.Data(name));

        float[] values = [.. Enumerable.Range(0, 300 * 300).Select(i => (i * 7919 % 1000) / 10f)];
        GeoTiffWriter.WriteSingle(folder.File("o.tif"), new GridLattice(300, 300, 0, 30, 0.1, 0.1), values, new GeoTiffBand("x", "m"));
        return File.ReadAllBytes(folder.File("o.tif"));
    }

    /// <summary>Reads every cell; the sentence, or null where all went well.</summary>
    private static string? ReadAll(TestFolder folder, byte[] bytes)
    {
        string path = folder.File("damaged.tif");
        File.WriteAllBytes(path, bytes);
        try
        {
            using Grid grid = GridFile.Open(path);
            double[] row = new double[grid.LatticeInDegrees.Columns];
            for (int y = 0; y < grid.LatticeInDegrees.Rows; y++)
                grid.ReadWindow(0, y, row.Length, 1, row);

            return null;
        }
        catch (GridException e)
        {
            Assert.Contains(path, e.Message, StringComparison.Ordinal);
            return e.Message;
        }
    }

    private static void Patch(byte[] tiff, int tag, uint value)
    {
        int directory = BinaryPrimitives.ReadInt32LittleEndian(tiff.AsSpan(4));
        int count = BinaryPrimitives.ReadUInt16LittleEndian(tiff.AsSpan(directory));
        for (int i = 0; i < count; i++)
        {
            Span<byte> entry = tiff.AsSpan(directory + 2 + i * 12, 12);
            if (BinaryPrimitives.ReadUInt16LittleEndian(entry) == tag)
            {
                BinaryPrimitives.WriteUInt16LittleEndian(entry[2..], 4); // LONG
                BinaryPrimitives.WriteUInt32LittleEndian(entry[8..], value);
                return;
            }
        }

        Assert.Fail($"The file has no tag {tag}.");
    }
}
