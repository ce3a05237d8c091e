using DecayAtlas.Contributions;
using DecayAtlas.Pages.Site;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Tests;

/// <summary>The words of a finding come from its code and the schema, in every language.</summary>
public class WhatFindingsSay
{
    private static PublicIntake Aside(params Finding[] findings) =>
        PublicIntake.Of(new IntakeResult("a folder", IntakeOutcome.AlreadyQuarantined, new string('c', 64), null, findings));

    private static Finding Latitude(int row) => new(FindingCode.OutOfRange, "sites.csv", row, "decimal_latitude", "947.3", "", "");

    [Theory]
    [InlineData("", "table sites, rows 2–4, column decimal_latitude", "A value within the allowed range.", "a number from -360 to 360 in degrees")]
    [InlineData("de/", "Tabelle sites, Zeilen 2–4, Spalte decimal_latitude", "Ein Wert im erlaubten Bereich.", "eine Zahl von -360 bis 360 in degrees")]
    public void A_waiting_page_says_where_and_what_the_column_takes(string folder, string where, string expected, string rule)
    {
        PagesInputs inputs = Examples.Inputs(Examples.WarmerIsFaster(3)) with { SetAside = [Aside(Latitude(2), Latitude(3), Latitude(4))] };
        string page = SiteMaker.Make(inputs, Examples.Options(inputs.Data)).Single(f => f.Path == folder + "contributions/waiting-cccccccccccccccc.html").Text;

        Assert.Contains(where, page, StringComparison.Ordinal);
        Assert.Contains($"{expected} (decimal_latitude: {rule})", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_column_and_every_place_of_the_schema_can_be_said_in_every_language()
    {
        foreach (Language words in Language.Known.Select(code => Language.Find(code)!))
        {
            foreach (FieldSchema field in SchemaCatalogue.Tables.SelectMany(t => t.Fields))
                Assert.DoesNotContain("{", FindingWords.Rule(field, words).Replace(field.PatternText ?? "\0", "", StringComparison.Ordinal), StringComparison.Ordinal);
            Finding finding = new(FindingCode.DescriptorInvalid, "datapackage.json", null, "/licenses/0/name", "", "", "");
            PublicFinding licence = Aside(finding).Findings[0];
            Assert.Contains("licenses/0/name", FindingWords.Line(licence, words), StringComparison.Ordinal);
        }
    }
}
