namespace DecayAtlas.Contributions.Tests;

/// <summary>What everybody may know of a finding: the schema's names and numbers, and nothing else.</summary>
public sealed class PublicFindingTests
{
    private const string Typed = "47.32871 behind Jane's house";

    [Theory]
    [InlineData("sites.csv", null, "decimal_latitude", null, "sites", "decimal_latitude")]
    [InlineData("results.xlsx", "Bags ", "mass_final_g", null, "bags", "mass_final_g")]
    [InlineData("results.csv", null, Typed, "sites.decimal_latitude", "sites", "decimal_latitude")]
    [InlineData("results.mapping.yaml", null, "fast.bags.mass_final_g", null, "bags", "mass_final_g")]
    [InlineData("results.mapping.yaml", null, "lots.0.tare_g", null, "lots", "tare_g")]
    [InlineData("my places.csv", null, "decimal_latitude", null, "sites", "decimal_latitude")]
    [InlineData("my places.csv", null, "site_id", null, null, null)]
    [InlineData("sites.csv", null, Typed, null, "sites", null)]
    [InlineData(Typed, Typed, Typed, Typed, null, null)]
    [InlineData("sites.csv " + Typed, null, "sites " + Typed, null, null, null)]
    [InlineData("sites.csv", null, "bags", null, "sites", null)]
    public void A_column_is_named_where_the_schema_knows_it(
        string file, string? sheet, string? column, string? field, string? table, string? known)
    {
        Finding finding = new(FindingCode.NotANumber, file, 3, column, Typed, Typed, Typed) { Sheet = sheet, Field = field, Cell = Typed };

        PublicFinding told = PublicFinding.Of(finding)!;

        Assert.Equal((table, known, 3), (told.Table?.Name, told.Column?.Name, told.Row));
        Assert.DoesNotContain("Jane", told.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("badwide.mapping.yaml", null, "fast.bags.depth_cm", "mapping, row 41, field bags.depth_cm, out-of-range")]
    [InlineData("badwide.mapping.yaml", null, "fast.bags." + Typed, "mapping, row 41, field bags, out-of-range")]
    [InlineData("badwide.mapping.yaml", null, Typed, "mapping, row 41, out-of-range")]
    [InlineData("badwide.mapping.yaml", null, "package.title", "mapping, /title, row 41, out-of-range")]
    [InlineData("datapackage.json", null, "/title", "datapackage.json, /title, row 41, out-of-range")]
    [InlineData("datapackage.json", null, "/" + Typed, "datapackage.json, row 41, out-of-range")]
    [InlineData("results.xlsx", "package", "title", "sheet package, /title, row 41, out-of-range")]
    [InlineData("bags.csv", null, "depth_cm", "bags, row 41, column depth_cm, out-of-range")]
    [InlineData(Typed, null, null, "row 41, out-of-range")]
    public void A_row_is_told_with_what_it_is_counted_in(string file, string? sheet, string? column, string told)
    {
        Finding finding = new(FindingCode.OutOfRange, file, 41, column, Typed, Typed, Typed) { Sheet = sheet };

        Assert.Equal(told, PublicFinding.Of(finding)!.ToString());
    }

    [Theory]
    [InlineData("datapackage.json", null, "/licenses/0/name", "/licenses/0/name")]
    [InlineData("datapackage.json", null, "/resources/12/path", "/resources/12/path")]
    [InlineData("datapackage.json", null, "/contributors/0/Jane", null)]
    [InlineData("datapackage.json", null, "/contributors/Jane/title", null)]
    [InlineData("datapackage.json", null, "/", null)]
    [InlineData("results.mapping.yaml", null, "package.licence", "/licenses/0/name")]
    [InlineData("results.mapping.yaml", null, "package.Jane", null)]
    [InlineData("results.xlsx", "Package", "contact_email", "/contributors/0/email")]
    [InlineData("results.xlsx", "Package", "Jane", null)]
    public void A_place_in_the_descriptor_is_named_where_the_schema_knows_it(string file, string? sheet, string column, string? known)
    {
        Finding finding = new(FindingCode.DescriptorInvalid, file, null, column, Typed, Typed, Typed) { Sheet = sheet };

        PublicFinding told = PublicFinding.Of(finding)!;

        Assert.Equal(known, told.Place?.Text);
        Assert.DoesNotContain("Jane", told.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_code_that_is_none_of_ours_says_nothing()
    {
        Assert.Null(PublicFinding.Of(new Finding(Typed, "sites.csv", 1, null, "", "", "")));
    }

    [Theory]
    [InlineData("c-2024.spring_1", true)]
    [InlineData("Jane", false)]
    [InlineData("47.32871 -11.19650", false)]
    [InlineData("c\n", false)]
    [InlineData("", false)]
    public void A_contribution_id_is_told_only_where_the_schema_allows_it(string id, bool isTold)
    {
        PublicIntake told = PublicIntake.Of(new IntakeResult(Typed, IntakeOutcome.Quarantined, new string('a', 64), id, []));

        Assert.Equal(isTold ? id : null, told.ContributionId);
        Assert.Equal(isTold ? $"{id} (aaaaaaaaaaaa)" : "aaaaaaaaaaaa", told.Name);
    }

    [Fact]
    public void What_has_no_content_hash_is_an_entry_of_the_inbox()
    {
        Assert.Equal("an entry of the inbox", PublicIntake.Of(new IntakeResult(Typed, IntakeOutcome.Quarantined, "", null, [])).Name);
        Assert.Null(PublicIntake.Of(new IntakeResult(Typed, IntakeOutcome.Quarantined, Typed, null, [])).ContentHash);
    }

    [Fact]
    public void Nobody_can_make_one_of_a_text()
    {
        foreach (Type type in new[] { typeof(PublicFinding), typeof(DescriptorPlace), typeof(PublicIntake) })
        {
            Assert.Empty(type.GetConstructors());
            Assert.All(type.GetProperties(), property => Assert.Null(property.SetMethod));
        }
    }
}
