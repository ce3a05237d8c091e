namespace DecayAtlas.Pipeline.Tests;

/// <summary>What a cache gives back is what was saved under the key, to the last bit, or nothing.</summary>
public sealed class CacheTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-cache-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    internal sealed record Numbers(double[] All, double? Missing, string? Text);

    private string FileOf(string key) => Path.Combine(_folder, "cache", "numbers", key);

    private Cache<Numbers> Open(CacheFormat<Numbers>? format = null, long keptBytes = 0) =>
        new(new AtlasFolder(_folder), "numbers", format, keptBytes);

    [Fact]
    public void Every_number_comes_back_to_the_last_bit()
    {
        double[] all = [0.1, 1 / 3.0, Math.PI * 1e300, double.Epsilon, double.MaxValue, -0.0, double.NaN, double.PositiveInfinity,
            double.NegativeInfinity,
            .. Enumerable.Range(0, 1000).Select(i => BitConverter.UInt64BitsToDouble((ulong)i * 0x9E3779B97F4A7C15))
                .Where(double.IsFinite)];
        Open().Save("k", new Numbers(all, null, "ä"));

        Numbers back = Open().Load("k")!;
        Assert.Equal(all.Select(BitConverter.DoubleToUInt64Bits), back.All.Select(BitConverter.DoubleToUInt64Bits));
        Assert.Equal((null, "ä"), (back.Missing, back.Text));
    }

    [Fact]
    public void One_of_which_a_byte_rotted_or_was_lost_counts_as_not_there()
    {
        Open().Save(
            "k", [KeyValuePair.Create("first", new Numbers([1], 1, null)), KeyValuePair.Create("last", new Numbers([2], null, "x"))]);
        byte[] whole = File.ReadAllBytes(FileOf("k"));
        Assert.Equal("x", Open().Load("k", "last")!.Text);
        Assert.Null(Open().Load("k", "no such"));
        for (int at = 0; at < whole.Length; at++)
        {
            byte[] rotten = [.. whole];
            rotten[at] ^= 1;
            File.WriteAllBytes(FileOf("k"), rotten);
            Assert.True(Open().Load("k", "first") is null || Open().Load("k", "last") is null, $"byte {at}");
        }

        foreach (byte[] cut in new byte[][] { [], whole[..20], whole[..60], whole[..^1] })
        {
            File.WriteAllBytes(FileOf("k"), cut);
            Assert.Null(Open().Load("k", "last"));
        }
    }

    [Fact]
    public void Another_format_is_not_read()
    {
        Open().Save("k", new Numbers([1], 1, "x"));
        Assert.Null(Open(CacheFormat<Numbers>.Json with { Version = "another" }).Load("k"));
    }

    [Fact]
    public void What_no_key_asks_for_is_swept()
    {
        foreach (string key in new[] { "a", "b" })
            Open().Save(key, new Numbers([1], 1, key));
        Open().KeepOnly(["b"]);
        Assert.Equal([FileOf("b")], Directory.GetFiles(Path.GetDirectoryName(FileOf("b"))!));
    }

    [Fact]
    public void What_this_run_saved_is_handed_over_once_and_read_after_that_and_memory_is_bounded()
    {
        Cache<Numbers> cache = Open(keptBytes: 60);
        Numbers value = new([1], 1, "x");
        cache.Save("a", value);
        cache.Save("b", value);
        Assert.Same(value, cache.Load("a"));
        Assert.NotSame(value, cache.Load("a"));
        Assert.NotSame(value, cache.Load("b"));
        Assert.Equal("x", cache.Load("b")!.Text);
    }
}
