namespace DecayAtlas.Pages.Tests;

/// <summary>The words of a finding come from its code and the schema, in every language.</summary>
public class WhatFindingsSay
{
    private static PublicIntake Aside(params Finding[] findings) =>
        PublicIntake.Of(new IntakeResult("a folder", IntakeOutcome.AlreadyQuarantined, new string('c', 64), null, findings));

    private static Finding Latitude(int row) => new(FindingCode.OutOfRange, "sites.csv", row, "decimal_latitude", "947.3", "", "");

    [Theory]
    [InlineData("", "table sites, rows 2–4, column decimal_latitude", "A value within the allowed range",
        "a number from -360 to 360 in degrees")]
    [InlineData("de/", "Tabelle sites, Zeilen 2–4, Spalte decimal_latitude", "Ein Wert im erlaubten Bereich",
        "eine Zahl von -360 bis 360 in Grad")]
    public void A_waiting_page_says_where_and_what_the_column_takes(string folder, string where, string expected, string rule)
    {
        PagesInputs inputs = Examples.Inputs(Examples.WarmerIsFaster(3)) with { SetAside = [Aside(Latitude(2), Latitude(3), Latitude(4))] };
        string page = SiteMaker.Make(inputs, Examples.Options(inputs.Data))
            .Single(f => f.Path == folder + "contributions/waiting-cccccccccccccccc.html").Text;

        Assert.Contains(where, page, StringComparison.Ordinal);
        Assert.Contains($"{expected} (decimal_latitude: {rule})", page, StringComparison.Ordinal);
    }

    // of the two bags of a hole the one that is meant, on the sheet that its sender sees
    [Fact]
    public void Of_a_kit_the_column_that_is_meant_is_named_and_no_table_of_the_schema()
    {
        Finding after = new(FindingCode.NotANumber, "sheet.xlsx", 6, "Sachet A après, g", "", "", "")
        {
            Sheet = "Trous et pesées",
            Cell = "F6",
            Field = "bags.mass_final_g",
        };
        IntakeResult kit = new("a folder", IntakeOutcome.AlreadyQuarantined, new string('c', 64), null, [after])
        {
            Format = ContributionFormat.Kit,
        };
        PublicIntake aside = PublicIntake.Of(kit);
        PagesInputs inputs = Examples.Inputs(Examples.WarmerIsFaster(3)) with { SetAside = [aside] };
        SiteFile[] files = [.. SiteMaker.Make(inputs, Examples.Options(inputs.Data) with { Languages = ["fr"] })];

        string page = files.Single(f => f.Path == "contributions/waiting-cccccccccccccccc.html").Text,
            quality = files.Single(f => f.Path == "quality.html").Text;
        Assert.Contains("Cette contribution n’est pas encore dans l’atlas", page, StringComparison.Ordinal);
        foreach (string text in (string[])[page, quality])
        {
            Assert.Contains("Sachet A après, g", text, StringComparison.Ordinal);
            Assert.DoesNotContain("Sachet B", text, StringComparison.Ordinal);
            Assert.DoesNotContain("mass_final_g", text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("de", "eine ganze Zahl von 1 bis 9999")]
    [InlineData("es", "un número entero de 1 a 9999")]
    [InlineData("fr", "un nombre entier de 1 à 9999")]
    public void An_entry_of_the_descriptor_is_told_in_the_language_of_the_page(string language, string expected)
    {
        PublicIntake aside = Aside(new Finding(FindingCode.RevisionRepeated, "datapackage.json", null, "/revision", "", "", ""));
        PagesInputs inputs = Examples.Inputs(Examples.WarmerIsFaster(3)) with { SetAside = [aside] };
        string page = SiteMaker.Make(inputs, Examples.Options(inputs.Data) with { Languages = [language] })
            .Single(f => f.Path == "contributions/waiting-cccccccccccccccc.html").Text;

        Assert.Contains(expected, page, StringComparison.Ordinal);
        Assert.DoesNotContain("a whole number", page, StringComparison.Ordinal);
    }

    // the sentences as ReleaseAnswers and TrendQuestion write them
    [Theory]
    [InlineData("The atlas has not been told which of its quantities is the temperature.")]
    [InlineData("There is 1 campaign, c-2026: a change takes at least 2, and a trend at least 3.")]
    [InlineData("No accepted burial in an untreated plot has k above 0, dates and the covariates.")]
    public void Why_there_is_no_answer_is_told_in_the_language_of_the_page(string sentence) => Assert.All(Language.Known, code =>
    {
        string said = FlagWords.Said("unanswered", sentence, Language.Find(code)!).ToString()!;

        Assert.Equal(code == "en", said == sentence);
        Assert.DoesNotContain("lang=", said, StringComparison.Ordinal);
    });

    [Fact]
    public void A_pattern_is_told_in_words_and_not_as_an_expression()
    {
        foreach (Language words in Language.Known.Select(code => Language.Find(code)!))
        {
            foreach (FieldSchema field in SchemaCatalogue.Tables.SelectMany(t => t.Fields).Where(f => f.PatternText is not null))
            {
                string rule = FindingWords.Rule(field, words);
                Assert.DoesNotContain("[", rule, StringComparison.Ordinal);
                Assert.Contains(field.Example, rule, StringComparison.Ordinal);
            }
        }
    }

    [Theory]
    [InlineData("en", "badwide.mapping.yaml", "fast.bags.depth_cm", "the mapping, row 5, field bags.depth_cm: ")]
    [InlineData("de", "badwide.mapping.yaml", "fast.bags.depth_cm", "die Zuordnung, Zeile 5, Feld bags.depth_cm: ")]
    [InlineData("en", "datapackage.json", "/title", "datapackage.json, row 5, entry title: ")]
    [InlineData("de", "datapackage.json", "/title", "datapackage.json, Zeile 5, Angabe title: ")]
    [InlineData("en", "Jane.csv", null, "the contribution, row 5: ")]
    [InlineData("de", "Jane.csv", null, "der Beitrag, Zeile 5: ")]
    public void A_row_is_told_with_the_file_that_it_is_counted_in(string language, string file, string? column, string where)
    {
        PublicFinding finding = Aside(new Finding(FindingCode.HalfLetter, file, 5, column, "", "", "")).Findings[0];

        Assert.StartsWith(where, FindingWords.Line(finding, Language.Find(language)!), StringComparison.Ordinal);
    }

    [Fact]
    public void No_full_stop_stands_before_a_bracket()
    {
        FieldSchema notes = SchemaCatalogue.Sites.Fields.First(f => f.Name == "notes");
        PublicFinding finding = Aside(new Finding(FindingCode.TooLong, "sites.csv", 5, notes.Name, "", "", "")).Findings[0];

        Assert.All(Language.Known, code =>
            Assert.DoesNotContain(". (", FindingWords.Line(finding, Language.Find(code)!), StringComparison.Ordinal));
    }

    [Fact]
    public void Every_column_and_every_place_of_the_schema_can_be_said_in_every_language()
    {
        foreach (Language words in Language.Known.Select(code => Language.Find(code)!))
        {
            foreach (FieldSchema field in SchemaCatalogue.Tables.SelectMany(t => t.Fields))
                Assert.DoesNotContain("{", FindingWords.Rule(field, words), StringComparison.Ordinal);
            Finding finding = new(FindingCode.DescriptorInvalid, "datapackage.json", null, "/licenses/0/name", "", "", "");
            PublicFinding licence = Aside(finding).Findings[0];
            Assert.Contains("licenses/0/name", FindingWords.Line(licence, words), StringComparison.Ordinal);
        }
    }
}
