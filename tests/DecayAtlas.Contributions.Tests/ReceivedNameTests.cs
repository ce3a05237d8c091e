using System.IO.Compression;
using System.Text;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace DecayAtlas.Contributions.Tests;

/// <summary>Names of what was received are somebody else's text: they carry nobody's address into a report and can't forge one.</summary>
public class ReceivedNameTests
{
    [Theory]
    [InlineData("jane.doe@example.org", "(an e-mail address)")]
    [InlineData("results of jane.doe@example.org.zip", "results of (an e-mail address)")]
    [InlineData("jane%40example.org", "(an e-mail address)")]
    [InlineData("jane\uFF20example.org", "(an e-mail address)")]
    [InlineData("jane (at) example.org", "(an e-mail address)")]
    [InlineData("jane[AT]example.org", "(an e-mail address)")]
    [InlineData("call +49 170 1234567", "call (a telephone number)")]
    [InlineData("call 0049-170-1234567", "call (a telephone number)")]
    [InlineData("2024-05-14 meadow 3 (at wood).zip", "2024-05-14 meadow 3 (at wood).zip")]
    [InlineData("a\u202Egpj.csv", "a?gpj.csv")]
    [InlineData("two\nlines\u2028three", "two?lines?three")]
    public void A_name_is_shown_without_addresses_and_on_one_line(string name, string shown) =>
        Assert.Equal(shown, ReceivedText.Name(name));

    [Theory]
    [InlineData("sites.csv", "mown by jane@example.org")]
    [InlineData("sites.csv", "ask jane (at) example.org")]
    public void An_address_in_a_table_is_refused_and_not_repeated(string file, string text)
    {
        using Example example = new();
        string path = example.FileAt(file);
        string[] lines = File.ReadAllLines(path);
        lines[1] += text;
        File.WriteAllLines(path, lines);

        Finding finding = example.OnlyFinding();

        Assert.Equal("contact-in-table", finding.Code);
        Assert.DoesNotContain("jane", finding.ToString(), StringComparison.Ordinal);
    }

    private static readonly string[] Pieces =
    [
        "jane.doe@example.org", "%40", "\u202E", "\u2028", "\n", "\u001b[31m", " ", "results", ".csv", "'", "\"", "<b>", "|", "..", "-rf",
            "=1+1", "é", "ß", "\ud83c\udf31", "(at)", "+49 30 1234567", "$(x)", "{", "\t",
    ];

    private static Arbitrary<string> Names => Gen.NonEmptyListOf(Gen.Elements(Pieces)).Select(pieces => string.Concat(pieces.Take(8)))
        .Where(name => name.Trim('.', ' ').Length > 0 && Encoding.UTF8.GetByteCount(name) < 180 && !name.StartsWith('.')).ToArbitrary();

    /// <summary>As a folder, a zip, a table and a stray file of the name, and as a file inside a contribution.</summary>
    [Property(MaxTest = 25)]
    public Property No_name_brings_an_address_or_a_second_line_into_a_report() => Prop.ForAll(Names, name =>
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has few of these names");
        using Example example = new();
        string broken = Path.Combine(example.Inbox, name + " folder");
        Directory.Move(example.Copy, broken);
        File.WriteAllText(Path.Combine(broken, "bags.csv"), "");
        File.WriteAllText(Path.Combine(broken, name + ".csv"), "a,b\n");
        File.WriteAllText(Path.Combine(example.Inbox, name), "a stray");
        File.WriteAllText(Path.Combine(example.Inbox, name + ".xlsx"), "no workbook");
        using (ZipArchive zip = ZipFile.Open(Path.Combine(example.Inbox, name + ".zip"), ZipArchiveMode.Create))
            zip.CreateEntry(name);

        List<string> shown = [];
        Intake intake = new(example.Atlas, IntakeLimits.Default);
        IReadOnlyList<IntakeResult> results = intake.TakeInbox(example.Inbox, (what, _, _) => shown.Add(what));
        shown.AddRange(results.Select(result => result.Source));
        shown.AddRange(results.SelectMany(result => result.Findings).Select(finding => finding.ToString()));
        Assert.Equal(4, results.Count);
        Assert.All(shown, text => Assert.DoesNotContain(text, ReceivedText.IsHostile));
        foreach (string report in Directory.GetFiles(Path.Combine(example.Atlas, "quarantine"), "report.*", SearchOption.AllDirectories))
            shown.Add(File.ReadAllText(report));
        Assert.All(shown, text => Assert.DoesNotContain("jane", text, StringComparison.Ordinal));
        Assert.All(shown, text => Assert.DoesNotContain("1234567", text, StringComparison.Ordinal));
        Assert.Empty(intake.CheckSetAside().Changed);
        // and the next night knows each of them
        intake.MarkTold(results);
        Assert.All(
            new Intake(example.Atlas, IntakeLimits.Default).TakeInbox(example.Inbox, null),
                result => Assert.Equal(IntakeOutcome.AlreadyQuarantined, result.Outcome));
    });

    [Fact]
    public void What_is_read_at_a_time_is_bounded_by_its_bytes_and_by_its_number()
    {
        string[] received = [.. Enumerable.Range(1, 50).Select(i => $"{i}")];

        string[][] byBytes = [.. ReadAhead.Batches(["30", "30", "30", "500", "1", "99", "1"], long.Parse, 100)];
        string[][] byNumber = [.. ReadAhead.Batches(received, _ => 0, 100)];

        Assert.Equal(["30 30 30", "500", "1 99", "1"], byBytes.Select(batch => string.Join(' ', batch)));
        Assert.All(byNumber, batch => Assert.True(batch.Length <= 2 * Environment.ProcessorCount));
        Assert.Equal(received, byNumber.SelectMany(batch => batch));
    }
}
