namespace DecayAtlas.Pipeline.Tests;

/// <summary>A grid is read anew when it is another one, however much it looks like the one before.</summary>
public sealed class FileFingerprintsTests : IDisposable
{
    private static readonly DateTime Long = new(2020, 1, 1, 0, 0, 0, DateTimeKind.Utc);
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-fingerprints-").FullName;

    public FileFingerprintsTests() => AtlasFolder.MakePrivate(Atlas.Cache);

    private AtlasFolder Atlas => new(Path.Combine(_folder, "atlas"));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string Fingerprint(string path)
    {
        FileFingerprints fingerprints = new(Atlas);
        string fingerprint = fingerprints.OfFile(path);
        fingerprints.Save();
        Assert.Equal(fingerprint, GridFingerprint.OfFile(path));
        return fingerprint;
    }

    private string Write(string name, byte[] bytes)
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllBytes(path, bytes);
        File.SetLastWriteTimeUtc(path, Long);
        return path;
    }

    [Theory]
    [InlineData(0)]
    [InlineData(70_000)]
    [InlineData(500_001)]
    [InlineData(999_999)]
    public void A_grid_replaced_by_one_of_the_same_length_and_time_is_seen(int changedByte)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "elsewhere only the probed blocks are looked at");
        byte[] bytes = new byte[1_000_000];
        string path = Write("g.tif", bytes), before = Fingerprint(path);
        bytes[changedByte] = 1;
        string fresh = Write("fresh.tif", bytes);
        File.Move(fresh, path, overwrite: true);

        Assert.NotEqual(before, Fingerprint(path));
    }

    [Fact]
    public void The_probe_sees_head_tail_and_a_change_of_any_length_of_a_block_and_its_gap()
    {
        byte[] bytes = new byte[2_000_000];
        string path = Write("g.tif", bytes), probe = ContentProbe.Of(path);
        Assert.Equal(probe, ContentProbe.Of(path));
        foreach (int at in new[] { 0, 65_535, 1_999_999, 1_940_000 })
        {
            bytes[at] ^= 1;
            Assert.NotEqual(probe, ContentProbe.Of(Write("g.tif", bytes)));
            bytes[at] ^= 1;
        }

        // 64 blocks of 4096 over 1.87 MB: one begins every 29.2 kB
        Array.Fill<byte>(bytes, 1, 700_000, 30_000);
        Assert.NotEqual(probe, ContentProbe.Of(Write("g.tif", bytes)));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(65_536)]
    [InlineData(65_537)]
    [InlineData(131_072)]
    [InlineData(135_000)]
    public void The_probe_of_a_small_file_covers_all_of_it(int length)
    {
        byte[] bytes = new byte[length];
        string probe = ContentProbe.Of(Write("g.tif", bytes));
        for (int at = 0; at < length; at += 4000)
        {
            bytes[at] = 1;
            Assert.NotEqual(probe, ContentProbe.Of(Write("g.tif", bytes)));
            bytes[at] = 0;
        }
    }

    [Theory]
    [InlineData(".dbf")]
    [InlineData(".prj")]
    [InlineData(".shx")]
    [InlineData(".cpg")]
    public void A_shapefile_is_all_its_files(string sibling)
    {
        string path = Write("soil.shp", [1]);
        foreach (string ending in new[] { ".dbf", ".prj", ".shx" })
            Write("soil" + ending, [1]);
        Write("soil2.dbf", [1]);
        string before = Fingerprint(path);
        Write("soil2.dbf", [2]);
        Assert.Equal(before, Fingerprint(path));
        Write("soil" + sibling, [2]);

        Assert.NotEqual(before, Fingerprint(path));
    }

    [Fact]
    public void A_changed_tile_changes_its_mosaic_and_the_others_are_remembered()
    {
        Write("t_a.tif", [1]);
        Write("t_b.tif", [1]);
        string pattern = Path.Combine(_folder, "t_*.tif"), before = Fingerprint(pattern);
        Assert.Equal(2,
            System.Text.RegularExpressions.Regex
                .Count(File.ReadAllText(Path.Combine(Atlas.Cache, "fingerprints", "files")), "\"fingerprint\""));
        Write("t_b.tif", [2]);

        Assert.NotEqual(before, Fingerprint(pattern));
    }
}
