using System.Diagnostics;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace DecayAtlas.Contributions.Tests;

/// <summary>
/// Damaged bytes in good files: the readers answer with a contribution or with findings, and never with an exception other than
/// <see cref="ContributionException"/>. Each property is bounded in cases and in size, so that all together take a few seconds.
/// </summary>
public class FuzzTests
{
    private static readonly byte[] Workbook = XlsxMaker.Example().ToBytes();
    private static readonly byte[] Package = TortureMaker.Made["package.zip"]();
    private static readonly IntakeLimits Small = IntakeLimits.Default with { MaxSpreadsheetBytes = 1 << 20 };
    private static readonly string Torture = Path.Combine(AppContext.BaseDirectory, "torture", "wide");

    /// <summary>Where bytes are changed, and to what; several places at once, some of them cut off.</summary>
    internal static Arbitrary<(int Seed, int Damages)> Damages => Gen.Choose(0, int.MaxValue - 1).Zip(Gen.Choose(1, 12)).ToArbitrary();

    [Property(MaxTest = 150)]
    public Property A_damaged_workbook_gets_an_answer() => Survives(Workbook, "a.xlsx", null);

    [Property(MaxTest = 150)]
    public Property A_damaged_zip_gets_an_answer() => Survives(Package, "a.zip", null);

    [Property(MaxTest = 200)]
    public Property A_damaged_wide_table_gets_an_answer() =>
        Survives(File.ReadAllBytes(Path.Combine(Torture, "plain.csv")), "a.csv",
            File.ReadAllBytes(Path.Combine(Torture, "plain.mapping.yaml")));

    [Property(MaxTest = 200)]
    public Property A_damaged_mapping_gets_an_answer() => Prop.ForAll(Damages, damage =>
    {
        byte[] mapping = Damaged(File.ReadAllBytes(Path.Combine(Torture, "burial-rows.mapping.yaml")), damage.Seed, damage.Damages);
        Read("a.csv", File.ReadAllBytes(Path.Combine(Torture, "burial-rows.csv")), mapping);
    });

    [Property(MaxTest = 100)]
    public Property A_damaged_table_of_a_package_gets_an_answer() => Prop.ForAll(Damages, damage =>
    {
        using Example example = new();
        string bags = example.FileAt("bags.csv");
        File.WriteAllBytes(bags, Damaged(File.ReadAllBytes(bags), damage.Seed, damage.Damages));
        Answers(example.Read(Small));
    });

    /// <summary>Inside the archive the XML is damaged, so that the zip's own checks do not shield the reader.</summary>
    [Property(MaxTest = 200)]
    public Property Damaged_XML_in_a_whole_workbook_gets_an_answer() => Prop.ForAll(Damages, damage =>
    {
        string[] parts = ["xl/workbook.xml", "xl/sharedStrings.xml", "xl/styles.xml", "xl/worksheets/sheet1.xml",
            "xl/worksheets/sheet4.xml", "xl/_rels/workbook.xml.rels", "_rels/.rels"];
        string part = parts[damage.Seed % parts.Length];
        XlsxMaker maker = XlsxMaker.Example();
        using System.IO.Compression.ZipArchive zip = new(new MemoryStream(Workbook));
        using MemoryStream content = new();
        using (Stream stream = zip.GetEntry(part)!.Open())
            stream.CopyTo(content);
        maker.Parts[part] = Damaged(content.ToArray(), damage.Seed, damage.Damages);
        Read("a.xlsx", maker.ToBytes(), null);
    });

    [Property(MaxTest = 60)]
    public Property Any_bytes_at_all_get_an_answer() => Prop.ForAll(ArbMap.Default.ArbFor<byte[]>(), bytes =>
    {
        Read("a.xlsx", bytes, null);
        Read("a.zip", bytes, null);
        Read("a.csv", bytes, bytes);
    });

    private static Property Survives(byte[] good, string name, byte[]? mapping) =>
        Prop.ForAll(Damages, damage => Read(name, Damaged(good, damage.Seed, damage.Damages), mapping));

    internal static byte[] Damaged(byte[] good, int seed, int damages)
    {
        Random random = new(seed);
        List<byte> bytes = [.. good];
        ReadOnlySpan<byte> telling = "<>&\"',;{}[]:-0\n\t\0%#"u8;
        for (int i = 0; i < damages && bytes.Count > 1; i++)
        {
            int at = random.Next(bytes.Count);
            switch (random.Next(5))
            {
                case 0: bytes[at] = (byte)random.Next(256); break;
                case 1: bytes.RemoveRange(at, Math.Min(bytes.Count - at, random.Next(1, 20))); break;
                case 2: bytes.InsertRange(at, bytes.GetRange(at, Math.Min(bytes.Count - at, random.Next(1, 60)))); break;
                case 3: bytes[at] = telling[random.Next(telling.Length)]; break;
                default: bytes[at] ^= (byte)(1 << random.Next(8)); break;
            }
        }
        return [.. bytes];
    }

    private static void Read(string name, byte[] bytes, byte[]? mapping)
    {
        string folder = Directory.CreateTempSubdirectory("contributions-fuzz-").FullName;
        try
        {
            string path = Path.Combine(folder, name);
            File.WriteAllBytes(path, bytes);
            if (mapping is not null)
                File.WriteAllBytes(SpreadsheetFiles.MappingPathOf(path), mapping);
            long begun = Stopwatch.GetTimestamp();
            Answers(ContributionReader.Read(path, Small));
            SheetInquiry.Of(path, null, new Dictionary<string, string>(), SenderWords.Find("en")!, Small, new DateOnly(2026, 11, 28));
            Assert.True(Stopwatch.GetElapsedTime(begun) < TimeSpan.FromSeconds(20), "A small file took longer than 20 s.");
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Either a contribution or findings, and each finding whole.</summary>
    private static void Answers(ReadResult result)
    {
        Assert.True(result.Contribution is not null != result.Findings.Count > 0);
        Assert.All(
            result.Findings,
                finding =>
                Assert.True(finding.Code.Length > 0 && finding.Found.Length > 0 && finding.Expected.Length > 0 && finding.Mend.Length > 0));
        CheckReport report = new("a", result, Example.Today);
        foreach (Phrases words in SenderWords.Known.Select(code => SenderWords.Find(code)!))
        {
            Assert.NotEmpty(report.ToHtml(words));
            Assert.NotEmpty(report.ToMarkdown(words));
        }
    }
}
