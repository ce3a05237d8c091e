using System.IO.Compression;
using System.Text;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace DecayAtlas.Contributions.Tests;

/// <summary>Faults of the folder or zip itself. None may throw, and none may cost much.</summary>
public class PackageFaultTests
{
    private static Finding OnlyFinding(string path, IntakeLimits? limits = null)
    {
        ReadResult result = ContributionReader.Read(path, limits ?? IntakeLimits.Default);
        Assert.Null(result.Contribution);
        return Assert.Single(result.Findings);
    }

    private static string ZipWith(Example example, string entry, string text, CompressionLevel level = CompressionLevel.Fastest)
    {
        string zip = example.Zip();
        using ZipArchive archive = ZipFile.Open(zip, ZipArchiveMode.Update);
        using Stream stream = archive.CreateEntry(entry, level).Open();
        stream.Write(Encoding.UTF8.GetBytes(text));
        return zip;
    }

    /// <summary>A table of a spreadsheet in Windows-1252, in which ü is the byte FC, beside a workbook: each would be read alone.</summary>
    [Theory]
    [InlineData("en", "Take one table after the other, each for itself, with its mapping if it has one.")]
    [InlineData("de", "Nehmt eine Tabelle nach der anderen, jede für sich, mit ihrer Zuordnung, wenn sie eine hat.")]
    [InlineData("es", "Tome una tabla tras otra, cada una por separado, con su asignación si la tiene.")]
    [InlineData("fr", "Prenez un tableau après l’autre, chacun à part, avec sa correspondance s’il en a une.")]
    public void Two_tables_together_are_taken_one_after_the_other(string language, string mend)
    {
        string folder = Directory.CreateTempSubdirectory("two-tables-").FullName;
        File.WriteAllBytes(Path.Combine(folder, "our bags.csv"), [.. "Hole;Place\n1;H"u8, 0xFC, .. "gel\n"u8]);
        File.WriteAllText(Path.Combine(folder, "more.tsv"), "Hole\tPlace\n1\tMeadow\n");

        Finding finding = Assert.Single(ContributionReader.Read(folder, IntakeLimits.Default).Findings);

        Assert.Equal(("table-beside", "2 tables: 'more.tsv', 'our bags.csv'"), (finding.Code, finding.Found));
        Assert.Equal(mend, FindingWords.ToDo(finding, SenderWords.Find(language)!));
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public void A_zip_reads_as_the_folder_it_was_made_from_and_has_the_same_hash()
    {
        using Example example = new();
        ReadResult folder = example.Read();
        ReadResult zip = ContributionReader.Read(example.Zip(), IntakeLimits.Default);

        Assert.Empty(zip.Findings);
        Assert.Equal(folder.ContentHash, zip.ContentHash);
        Assert.Equal(folder.Contribution!.Header, zip.Contribution!.Header);
        Assert.Equal(folder.Contribution.Bags, zip.Contribution.Bags);
    }

    [Fact]
    public void A_zip_that_holds_the_folder_itself_and_what_file_managers_leave_behind_reads_the_same()
    {
        using Example example = new();
        string zip = Path.Combine(example.Root, "outer.zip");
        ZipFile.CreateFromDirectory(example.Copy, zip, CompressionLevel.Optimal, includeBaseDirectory: true);
        using (ZipArchive archive = ZipFile.Open(zip, ZipArchiveMode.Update))
        {
            archive.CreateEntry("__MACOSX/group-a/._bags.csv");
            archive.CreateEntry("group-a/.DS_Store");
        }

        Assert.Equal(example.Read().ContentHash, ContributionReader.Read(zip, IntakeLimits.Default).ContentHash);
    }

    [Fact]
    public void The_hash_is_what_sha256sum_gives()
    {
        // Outside source: GNU coreutils, `cd group-a; LC_ALL=C sha256sum * | sha256sum`.
        Assert.SkipUnless(File.Exists("/usr/bin/sha256sum"), "sha256sum of GNU coreutils is not installed");
        using Example example = new();
        using System.Diagnostics.Process shell = System.Diagnostics.Process.Start(new System.Diagnostics.ProcessStartInfo("/bin/sh")
        {
            ArgumentList = { "-c", "LC_ALL=C; export LC_ALL; sha256sum * | sha256sum" },
            WorkingDirectory = example.Copy,
            RedirectStandardOutput = true,
        })!;
        string printed = shell.StandardOutput.ReadToEnd();

        Assert.Equal(printed[..64], example.Read().ContentHash);
    }

    [Fact]
    public void The_checksum_of_zip_is_computed_as_published()
    {
        // Check value of CRC-32/ISO-HDLC in the CRC catalogue of Greg Cook (reveng): CRC("123456789") = CBF43926.
        Assert.Equal(0xCBF43926u, System.IO.Hashing.Crc32.HashToUInt32("123456789"u8));
    }

    [Theory]
    [InlineData("../evil.csv", "leads out of the contribution")]
    [InlineData("sub/../../evil.csv", "leads out of the contribution")]
    [InlineData("/etc/evil.csv", "absolute")]
    [InlineData("..\\evil.csv", "backslashes")]
    [InlineData("C:/evil.csv", "colon")]
    public void A_zip_with_a_path_that_leads_out_is_told_and_writes_nothing(string entry, string why)
    {
        using Example example = new();
        Finding finding = OnlyFinding(ZipWith(example, entry, "x"));

        Assert.Equal(("path-unsafe", "group-a.zip"), (finding.Code, finding.File));
        Assert.Contains(why, finding.Found, StringComparison.Ordinal);
        Assert.Contains("stay inside", finding.Expected, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(example.Root, "evil.csv", SearchOption.AllDirectories));
    }

    [Fact]
    public void A_zip_that_is_cut_off_is_told()
    {
        using Example example = new();
        string zip = example.Zip();
        byte[] bytes = File.ReadAllBytes(zip);
        File.WriteAllBytes(zip, bytes[..(bytes.Length / 2)]);

        Finding finding = OnlyFinding(zip);
        Assert.Equal(("zip-broken", "group-a.zip"), (finding.Code, finding.File));
        Assert.Contains("cut off or damaged", finding.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_text_file_called_zip_is_told()
    {
        using Example example = new();
        string zip = Path.Combine(example.Root, "note.zip");
        File.WriteAllText(zip, "I am not a zip.");

        Assert.Equal("zip-broken", OnlyFinding(zip).Code);
    }

    [Fact]
    public void A_changed_byte_inside_a_stored_table_is_told_not_read_as_data()
    {
        using Example example = new();
        string zip = Path.Combine(example.Root, "stored.zip");
        ZipFile.CreateFromDirectory(example.Copy, zip, CompressionLevel.NoCompression, includeBaseDirectory: false);
        byte[] bytes = File.ReadAllBytes(zip);
        int at = bytes.AsSpan().IndexOf(",4.12,1.94,"u8);
        bytes[at + 1] = (byte)'3';
        File.WriteAllBytes(zip, bytes);

        Finding finding = Assert.Single(ContributionReader.Read(zip, IntakeLimits.Default).Findings);
        Assert.Equal(("zip-broken", "bags.csv"), (finding.Code, finding.File));
    }

    [Fact]
    public void An_encrypted_zip_is_told()
    {
        using Example example = new();
        string zip = example.Zip();
        byte[] bytes = File.ReadAllBytes(zip);
        // Bit 0 of the general purpose flags says "encrypted" (APPNOTE.TXT 4.4.4); 8 bytes into a central directory record.
        for (int at = 0; (at = IndexOf(bytes, "PK\u0001\u0002"u8, at)) >= 0; at++)
            bytes[at + 8] |= 1;
        for (int at = 0; (at = IndexOf(bytes, "PK\u0003\u0004"u8, at)) >= 0; at++)
            bytes[at + 6] |= 1;
        File.WriteAllBytes(zip, bytes);

        IReadOnlyList<Finding> findings = ContributionReader.Read(zip, IntakeLimits.Default).Findings;
        Assert.Contains(
            findings, finding => finding.Code == "zip-encrypted" && finding.Mend.Contains("without a password", StringComparison.Ordinal));
    }

    private static int IndexOf(byte[] bytes, ReadOnlySpan<byte> what, int from) =>
        bytes.AsSpan(from).IndexOf(what) is >= 0 and int at ? from + at : -1;

    [Fact]
    public void A_zip_bomb_is_stopped_while_it_unpacks()
    {
        using Example example = new();
        Finding finding = OnlyFinding(ZipWith(example, "bomb.txt", new string('a', 30_000_000), CompressionLevel.SmallestSize));

        Assert.Equal(("zip-too-dense", "bomb.txt"), (finding.Code, finding.File));
        Assert.Contains("at most 200 bytes out of one", finding.Expected, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_over_the_limit_is_told()
    {
        using Example example = new();
        File.WriteAllBytes(example.FileAt("photo.jpg"), new byte[5000]);

        Finding finding = example.OnlyFinding(IntakeLimits.Default with { MaxFileBytes = 4000 });
        Assert.Equal(("file-too-large", "photo.jpg", "at most 4000 bytes"), (finding.Code, finding.File, finding.Expected));
    }

    [Fact]
    public void A_contribution_over_the_limit_is_told_even_when_its_zip_is_small()
    {
        using Example example = new();
        string zip = ZipWith(example, "a.txt", new string('a', 50_000));

        Assert.Equal("package-too-large", example.OnlyFinding(IntakeLimits.Default with { MaxPackageBytes = 2000 }).Code);
        Assert.Equal("package-too-large", OnlyFinding(zip, IntakeLimits.Default with { MaxPackageBytes = 20_000 }).Code);
    }

    [Fact]
    public void Too_many_files_are_told()
    {
        using Example example = new();

        Finding finding = example.OnlyFinding(IntakeLimits.Default with { MaxFiles = 4 });
        Assert.Equal(("too-many-files", "5 files", "at most 4"), (finding.Code, finding.Found, finding.Expected));
    }

    [Fact]
    public void A_link_in_a_folder_is_told_and_not_followed()
    {
        using Example example = new();
        File.WriteAllText(Path.Combine(example.Root, "secret.txt"), "secret");
        string before = example.Read().ContentHash;
        File.CreateSymbolicLink(example.FileAt("secret.txt"), Path.Combine(example.Root, "secret.txt"));
        Directory.CreateSymbolicLink(example.FileAt("up"), example.Root);

        ReadResult result = example.Read();

        Assert.Equal(["secret.txt", "up"], result.Findings.Select(finding => finding.File).Order(StringComparer.Ordinal));
        Assert.All(result.Findings, finding => Assert.Equal("link-not-allowed", finding.Code));
        Assert.NotEqual(before, result.ContentHash);
    }

    [Fact]
    public void A_link_in_a_zip_is_told()
    {
        using Example example = new();
        string zip = example.Zip();
        using (ZipArchive archive = ZipFile.Open(zip, ZipArchiveMode.Update))
        {
            ZipArchiveEntry entry = archive.CreateEntry("secret.txt");
            entry.ExternalAttributes = unchecked((int)0xA1FF0000);
            using Stream stream = entry.Open();
            stream.Write("/etc/passwd"u8);
        }

        Assert.Equal("link-not-allowed", OnlyFinding(zip).Code);
    }

    [Fact]
    public void Two_entries_of_one_name_are_told()
    {
        using Example example = new();

        Assert.Equal(("path-repeated", "Bags.CSV"),
            (OnlyFinding(ZipWith(example, "Bags.CSV", "x")) is var finding ? finding.Code : "", finding.File));
    }

    [Fact]
    public void An_empty_folder_and_nothing_at_all_are_told()
    {
        using Example example = new();
        string empty = Directory.CreateDirectory(Path.Combine(example.Root, "empty")).FullName;

        Assert.Equal("package-empty", OnlyFinding(empty).Code);
        Assert.Equal("package-not-found", OnlyFinding(Path.Combine(example.Root, "gone")).Code);
    }

    [Property(MaxTest = 100)]
    public FsCheck.Property A_zip_with_any_bytes_changed_never_throws_and_never_passes_with_other_content() =>
        Prop.ForAll(ArbMap.Default.ArbFor<(int At, byte Value)[]>(), changes =>
        {
            using Example example = new();
            string zip = example.Zip();
            ReadResult sound = ContributionReader.Read(zip, IntakeLimits.Default);
            byte[] bytes = File.ReadAllBytes(zip);
            foreach ((int at, byte value) in changes)
                bytes[(int)((uint)(at * 7919) % (uint)bytes.Length)] = value;
            File.WriteAllBytes(zip, bytes);

            ReadResult result = ContributionReader.Read(zip, IntakeLimits.Default);

            return result.Contribution is null ? result.Findings.Count > 0 : result.ContentHash == sound.ContentHash;
        });

    [Property(MaxTest = 100)]
    public FsCheck.Property Any_bytes_in_place_of_a_table_never_throw(byte[] bytes, string text, bool asText) =>
        Prop.ToProperty(
            NeverThrows(example => File.WriteAllBytes(example.FileAt("bags.csv"), asText ? Encoding.UTF8.GetBytes(text ?? "") : bytes)));

    [Property(MaxTest = 100)]
    public FsCheck.Property Any_pieces_of_csv_never_throw(byte[] pieces)
    {
        string[] parts = [",", "\"", "\n", "\r\n", ";", "bag_id", "x", "1,5", "2024-02-31", ""];
        string header = File.ReadLines(Path.Combine(Example.Folder, "bags.csv")).First();
        string text = header + "\n" + string.Concat(pieces.Select(piece => parts[piece % parts.Length]));
        return Prop.ToProperty(NeverThrows(example => File.WriteAllText(example.FileAt("bags.csv"), text)));
    }

    [Property(MaxTest = 100)]
    public FsCheck.Property Any_damage_to_the_descriptor_never_throws((int At, byte Kind)[] changes) =>
        Prop.ToProperty(NeverThrows(example =>
        {
            string[] tokens = ["{}", "[]", "null", "1", "\"x\"", "\"\"", ",", "{", "\"../bags.csv\""];
            string text = File.ReadAllText(example.FileAt("datapackage.json"));
            foreach ((int at, byte kind) in changes)
            {
                // Replace whole JSON strings, so that most of the results are still JSON.
                System.Text.RegularExpressions.MatchCollection strings =
                    System.Text.RegularExpressions.Regex.Matches(text, ": (\"[^\"]*\"|\\[|[0-9]+)");
                if (strings.Count == 0)
                    continue;
                System.Text.RegularExpressions.Match match = strings[(int)((uint)at % (uint)strings.Count)];
                text = text[..match.Index] + ": " + tokens[kind % tokens.Length] + text[(match.Index + match.Length)..];
            }
            File.WriteAllText(example.FileAt("datapackage.json"), text);
        }));

    private static bool NeverThrows(Action<Example> spoil)
    {
        using Example example = new();
        spoil(example);
        ReadResult result = example.Read();
        return (result.Contribution is null) == (result.Findings.Count > 0);
    }

    [Fact]
    public void A_pipe_in_a_folder_does_not_make_the_reader_wait()
    {
        Assert.SkipUnless(File.Exists("/usr/bin/mkfifo"), "mkfifo of GNU coreutils is not installed");
        using Example example = new();
        System.Diagnostics.Process.Start("/usr/bin/mkfifo", example.FileAt("pipe.csv")).WaitForExit();

        Assert.Equal("file-not-listed", example.OnlyFinding().Code);
    }
}
