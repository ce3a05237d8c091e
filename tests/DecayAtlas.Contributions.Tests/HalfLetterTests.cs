namespace DecayAtlas.Contributions.Tests;

/// <summary>A surrogate without its other half, wherever text comes in, is told at its place and stops nothing.</summary>
public class HalfLetterTests
{
    private const string Half = "\\ud800";

    [Theory]
    [InlineData("\"name\": \"example-meadow-and-wood\"", $"\"name\": \"example-{Half}\"", "/name")]
    [InlineData("\"campaign\": \"example-2024\"", $"\"campaign\": \"{Half}\"", "/campaign")]
    [InlineData("\"name\": \"CC-BY-4.0\"", $"\"name\": \"CC-BY-4.0{Half}\"", "/licenses/0/name")]
    [InlineData("\"path\": \"bags.csv\"", $"\"path\": \"bags{Half}.csv\"", "/resources/2/path")]
    [InlineData("\"revision\": 1", $"\"revision\": 1, \"remark{Half}\": {{ \"a\": 1 }}", "")]
    [InlineData("\"revision\": 1", $"\"revision\": 1, \"remark\": [0, {{ \"a/b\": \"\\udc00\\ud83d\" }}]", "/remark/1/a~1b")]
    public void In_a_descriptor_it_is_a_finding_at_its_place(string old, string with, string place)
    {
        using Example example = new Example().Replace("datapackage.json", old, with);
        Finding finding = example.OnlyFinding();

        Assert.Equal(("half-letter", "datapackage.json", place), (finding.Code, finding.File, finding.Column));
        Assert.Equal("write the text again: the program that made the file cut a letter in two", finding.Mend);
        Assert.Contains($", entry {place}: found", finding.ToString(), StringComparison.Ordinal);
        string line = File.ReadAllLines(example.FileAt("datapackage.json"))[finding.Row!.Value - 1];
        Assert.Contains("\\ud", line, StringComparison.Ordinal);
    }

    [Fact]
    public void A_whole_letter_written_as_two_halves_is_none()
    {
        using Example example = new Example().Replace("datapackage.json", "\"revision\": 1",
            "\"revision\": 1, \"remark\": \"\\ud83c\\udf31 \uD83C\uDF31\"");

        Assert.NotNull(example.Read().Contribution);
    }

    [Theory]
    [InlineData("bags", "notes")]
    [InlineData("sites", "site_id")]
    [InlineData("package", "value")]
    public void In_a_cell_of_a_workbook_it_is_a_finding_at_its_place(string sheet, string column)
    {
        using Example example = new();
        string path = Path.Combine(example.Root, "half.xlsx");
        File.WriteAllBytes(path, XlsxMaker.Example().Set(sheet, 2, column, "_xD800_").ToBytes());
        ReadResult read = ContributionReader.Read(path, IntakeLimits.Default);

        Assert.Null(read.Contribution);
        Finding finding = Assert.Single(read.Findings, f => f.Code == "half-letter");
        Assert.Equal((sheet, 2), (finding.Sheet, finding.Row));
        Assert.NotNull(finding.Cell);
    }

    [Theory]
    [InlineData("version: \"1\\uD800\"\n")]
    [InlineData("\"key\\uD800\": 1\n")]
    [InlineData("a:\n  - \"\\uDC00\"\n")]
    public void In_YAML_it_is_told_with_its_line(string yaml)
    {
        YamlDocumentException told =
            Assert.Throws<YamlDocumentException>(() =>
                YamlDocument.Parse("m.yaml", () => new MemoryStream(System.Text.Encoding.UTF8.GetBytes(yaml))));

        Assert.Matches(@"^m\.yaml:\d+: ", told.Message);
    }

    [Theory]
    [InlineData("0061 0062", false)]
    [InlineData("D83C DF31", false)]
    [InlineData("D83C", true)]
    [InlineData("0061 DF31", true)]
    [InlineData("D83C D83C DF31", true)]
    [InlineData("D83C DF31 DF31", true)]
    public void Halves_are_told_from_whole_letters(string units, bool isHalf)
    {
        string text = string.Concat(units.Split(' ').Select(unit => (char)Convert.ToInt32(unit, 16)));
        Assert.Equal(isHalf, HalfLetter.IsIn(text));
        Assert.False(HalfLetter.IsIn(HalfLetter.Replaced(text)));
        Assert.Equal(isHalf, HalfLetter.Replaced(text).Contains((char)0xFFFD));
    }

    [Fact]
    public void Beside_one_with_half_a_letter_all_others_are_taken_in()
    {
        using Example example = new Example("half").Replace("datapackage.json",
            "\"campaign\": \"example-2024\"", $"\"campaign\": \"{Half}\"");
        using Example sound = new("sound");
        Directory.Move(sound.Copy, Path.Combine(example.Inbox, "sound"));

        IReadOnlyList<IntakeResult> taken = new Intake(example.Atlas, IntakeLimits.Default).TakeInbox(example.Inbox, null);

        Assert.Equal([IntakeOutcome.Quarantined, IntakeOutcome.Accepted], taken.Select(t => t.Outcome));
        Assert.Null(taken[0].Mistake);   // the sender's, not ours
    }
}
