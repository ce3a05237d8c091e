namespace DecayAtlas.Contributions.Tests;

/// <summary>Faults of datapackage.json and of the files it names.</summary>
public class DescriptorFaultTests
{
    private static void Says(Finding finding, string code, string file, string? column, string found, string expected, string mend)
    {
        Assert.Equal((code, file, column), (finding.Code, finding.File, finding.Column));
        Assert.Contains(found, finding.Found, StringComparison.Ordinal);
        Assert.Contains(expected, finding.Expected, StringComparison.Ordinal);
        Assert.Contains(mend, finding.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_licence_of_blanks_is_none()
    {
        using Example example = new Example().Replace("datapackage.json", "\"CC-BY-4.0\"", "\"  \"");
        Assert.Equal("/licenses/0/name", example.OnlyFinding().Column);
    }

    // identifiers as the SPDX list writes them; its annex on expressions says that capitals do not count (both from memory)
    [Theory]
    [InlineData("CC0-1.0")]
    [InlineData("cc-by-sa-4.0")]
    [InlineData("ODbL-1.0")]
    [InlineData("PDDL-1.0")]
    [InlineData("ODC-By-1.0")]
    public void An_open_licence_is_taken_in_whatever_capitals(string licence)
    {
        using Example example = new Example().Replace("datapackage.json", "\"CC-BY-4.0\"", $"\"{licence}\"");
        Assert.Equal(licence, example.Read().Contribution?.Header.Licence);
    }

    [Theory]
    [InlineData("CC BY 4.0", "write CC-BY-4.0")]
    [InlineData("CC-BY-4,0", "write CC-BY-4.0")]
    [InlineData("CC0", "CC0-1.0 asks nothing")]
    [InlineData("all rights reserved", "CC-BY-4.0 asks to be named")]
    [InlineData("CC-BY-NC-4.0", "NC and ND forbid that")]
    [InlineData("CC BY-ND 4.0", "NC and ND forbid that")]
    public void A_licence_that_is_not_open_is_told_with_what_to_choose(string licence, string mend)
    {
        using Example example = new Example().Replace("datapackage.json", "\"CC-BY-4.0\"", $"\"{licence}\"");
        // the rest is read all the same, so that a sender hears of all at once
        Assert.Equal(8, example.Read().SoundRows?.Bags.Count);
        Says(example.OnlyFinding(), "licence-not-open", "datapackage.json", "/licenses/0/name", licence, "CC0-1.0, CC-BY-4.0", mend);
    }

    [Theory]
    [InlineData("https://creativecommons.org/licenses/by/4.0/", true)]
    [InlineData("http://creativecommons.org/licenses/by/4.0/deed.de", true)]
    [InlineData("https://creativecommons.org/licenses/by-nc/4.0/", false)]
    [InlineData("https://example.org/licence", false)]
    public void The_address_of_an_open_licence_may_stand_for_its_name(string address, bool isOpen)
    {
        using Example example = new Example()
            .Replace("datapackage.json", "\"name\": \"CC-BY-4.0\",", "")
            .Replace("datapackage.json", "https://creativecommons.org/licenses/by/4.0/", address);
        Assert.Equal(isOpen ? [] : ["licence-not-open /licenses/0/path"], example.Read().Findings.Select(f => $"{f.Code} {f.Column}"));
    }

    [Fact]
    public void What_was_accepted_under_another_licence_stays_accepted()
    {
        using Example example = new Example().Replace("datapackage.json", "\"CC-BY-4.0\"", "\"house rules\"");
        using PackageReading before = PackageReading.Begin(example.Copy, IntakeLimits.Default, wasAccepted: true);
        Assert.Equal("house rules", before.Complete().Contribution?.Header.Licence);
    }

    [Fact]
    public void A_contribution_without_a_descriptor_is_told()
    {
        using Example example = new();
        File.Delete(example.FileAt("datapackage.json"));

        Says(example.OnlyFinding(), "descriptor-missing", "datapackage.json", null, "no such file", "data package descriptor", "example");
    }

    [Fact]
    public void A_descriptor_that_is_not_json_is_told_with_its_line()
    {
        using Example example = new Example().Replace("datapackage.json", "\"revision\": 1,", "\"revision\": 1");

        Finding finding = example.OnlyFinding();
        Says(finding, "descriptor-broken", "datapackage.json", null, "not JSON", "a JSON object", "commas");
        Assert.Equal(5, finding.Row);
    }

    [Fact]
    public void A_property_that_stands_twice_is_told()
    {
        using Example example = new Example().Replace("datapackage.json", "\"revision\": 1,", "\"revision\": 1, \"revision\": 2,");

        Says(example.OnlyFinding(), "descriptor-broken", "datapackage.json", null, "twice", "a JSON object", "mend");
    }

    [Theory]
    [InlineData("\"campaign\": \"example-2024\",", "", "/campaign", "nothing", "the campaign id", "add the property campaign")]
    [InlineData("\"campaign\":", "\"campain\":", "/campaign", "nothing", "the campaign id", "campain may be it, misspelt")]
    [InlineData("\"revision\": 1,", "\"revision\": 0,", "/revision", "'0'", "a whole number from 1 up", "correct the property")]
    [InlineData("\"revision\": 1,", "\"revision\": \"one\",", "/revision", "'\"one\"'", "a whole number from 1 up", "correct the property")]
    [InlineData("\"revision\": 1,", "\"revision\": 1e99,", "/revision", "'1e99'", "up to 9999", "correct the property")]
    [InlineData("\"example-meadow-and-wood\"", "\"example\\n\"", "/name", "example", "lower-case letters", "correct the property")]
    [InlineData("\"example-meadow-and-wood\"", "\"Meadow & Wood\"", "/name", "'\"Meadow & Wood\"'", "lower-case letters",
        "correct the property")]
    [InlineData("decayatlas-contribution-1", "tabular-data-package", "/profile", "tabular-data-package", "decayatlas-contribution-1",
        "correct the property")]
    [InlineData("\"name\": \"lots\"", "\"name\": \"lot\"", "/resources/1/name", "'\"lot\"'", "sites, lots, bags or samples",
        "correct the property")]
    [InlineData("\"path\": \"lots.csv\"", "\"path\": \"lots.xls\"", "/resources/1/path", "lots.xls", "bags.csv", "correct the property")]
    [InlineData("\"title\": \"Example Group\"", "\"name\": \"Example Group\"", "/contributors/0/title", "nothing", "a name",
        "add the property title")]
    public void A_property_that_breaks_the_profile_is_named_with_what_it_should_be(string old, string @new, string place, string found,
        string expected, string mend)
    {
        using Example example = new Example().Replace("datapackage.json", old, @new);

        Finding finding = Assert.Single(example.Read().Findings, finding => finding.Column == place);
        Says(finding, "descriptor-invalid", "datapackage.json", place, found, expected, mend);
    }

    [Fact]
    public void A_table_that_the_descriptor_does_not_name_is_told_once()
    {
        using Example example = new Example().Replace("datapackage.json", "\"name\": \"lots\"", "\"name\": \"sites\"");

        Finding finding = example.OnlyFinding();
        Says(finding, "descriptor-invalid", "datapackage.json", "/resources", "", "the tables sites, lots, bags", "correct the property");
    }

    [Fact]
    public void Contact_data_is_never_repeated_in_a_finding()
    {
        using Example example = new Example().Replace("datapackage.json", "\"email\": \"group@example.org\"", "\"email\": 12345678");

        Finding finding = example.OnlyFinding();
        Says(finding, "descriptor-invalid", "datapackage.json", "/contributors/0/email", "not shown", "an e-mail address",
            "correct the property");
        Assert.DoesNotContain("12345678", finding.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_created_day_that_does_not_exist_is_told()
    {
        using Example example = new Example().Replace("datapackage.json", "2024-09-02", "2024-09-31");

        Says(example.OnlyFinding(), "date-impossible", "datapackage.json", "/created", "'2024-09-31'", "a day that exists",
            "correct the date");
    }

    [Fact]
    public void A_file_that_the_descriptor_names_but_is_not_there_is_told()
    {
        using Example example = new();
        File.Delete(example.FileAt("samples.csv"));

        Says(example.OnlyFinding(), "file-missing", "samples.csv", null, "no such file", "the file of the table samples", "add the file");
    }

    [Fact]
    public void Capitals_in_a_file_name_are_told_as_such()
    {
        using Example example = new();
        File.Move(example.FileAt("samples.csv"), example.FileAt("Samples.csv"));

        Says(example.OnlyFinding(), "file-missing", "samples.csv", null, "no such file", "samples", "rename Samples.csv to samples.csv");
    }

    [Fact]
    public void A_table_beside_the_others_that_is_not_named_is_not_silently_ignored()
    {
        using Example example = new();
        File.Copy(example.FileAt("bags.csv"), example.FileAt("bags-late.csv"));

        Says(example.OnlyFinding(), "file-not-listed", "bags-late.csv", null, "does not name", "every table", "name it under resources");
    }

    [Theory]
    [InlineData("../lots.csv", "leads out of the contribution")]
    [InlineData("/etc/lots.csv", "absolute")]
    [InlineData("sub\\\\lots.csv", "backslashes")]
    [InlineData("C:lots.csv", "colon")]
    public void A_path_that_leads_out_of_the_contribution_is_told(string path, string why)
    {
        using Example example = new Example().Replace("datapackage.json", "\"path\": \"lots.csv\"", $"\"path\": \"{path}\"");

        Says(example.OnlyFinding(), "path-unsafe", "datapackage.json", "/resources/1/path", why, "a file inside the contribution",
            "beside the descriptor");
    }
}
