namespace DecayAtlas.Kit.Tests;

/// <summary>A kit's workbook as people fill it in: numbers and days as text, words and noughts for weights, places that are no places. What
/// the cells mean was worked out by hand.</summary>
public class KitsAsPeopleTypeThem
{
    [Theory]
    [InlineData("de", "3,58", 3.58)]
    [InlineData("fr", "3,58 g", 3.58)]
    [InlineData("es", "3,580", 3.58)]
    [InlineData("en", "3.58", 3.58)]
    // two digits behind a comma are no thousands in any language
    [InlineData("en", "3,58", 3.58)]
    // thousands would be 1.9 kg of a bag of 4 g
    [InlineData("de", "1.994", 1.994)]
    [InlineData("en", "1,994", 1.994)]
    public void A_weight_that_was_typed_as_text_is_read_and_told(string language, string typed, double grams)
    {
        (IReadOnlyList<BagRow> bags, Finding[] told) = Read(language, "E5", typed);

        Assert.Equal(grams, bags.First(bag => bag.BagId == "101A").MassInitialGrams);
        Assert.Equal(typed == grams.ToString(System.Globalization.CultureInfo.InvariantCulture) ? 0 : 1, told.Length);
        Assert.All(told, finding => Assert.Contains(typed, finding.Found, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("de", "14.04.2027", "2027-04-14")]
    [InlineData("en", "14.04.2027", "2027-04-14")]
    [InlineData("en", "14/04/2027", "2027-04-14")]
    [InlineData("en", "04/14/2027", "2027-04-14")]
    [InlineData("fr", "05/04/2027", "2027-04-05")]
    [InlineData("es", "5 de abril de 2027", "2027-04-05")]
    [InlineData("de", "5. April 27", "2027-04-05")]
    [InlineData("de", "5.4.27", "2027-04-05")]
    [InlineData("en", "2027-4-5", "2027-04-05")]
    public void A_day_that_was_typed_as_text_is_read_and_told(string language, string typed, string day)
    {
        (IReadOnlyList<BagRow> bags, Finding[] told) = Read(language, "C5", typed);

        Assert.All(bags, bag => Assert.Equal(day, $"{bag.BuriedOn:yyyy-MM-dd}"));
        Assert.Equal($"read as {day}", Assert.Single(told).Expected);
    }

    [Theory]
    [InlineData("en", "C5", "05/04/2027", "2027-04-05 or 2027-05-04")]
    [InlineData("de", "B6", "", "")]
    public void What_can_be_read_in_two_ways_is_asked(string language, string cell, string typed, string either)
    {
        if (typed.Length == 0)
        {
            // latitude 53,310 in a German kit is 53.31; 1.234 m of exactness may be a metre or a kilometre
            using FilledKit exactness = new FilledKit(language).Place("D5", "1.234").Place("B5", "53,310");
            Finding asked = Assert.Single(exactness.Read().Findings);
            Assert.Equal(("kit-unsure", "D5"), (asked.Code, asked.Cell));
            Assert.Contains("1234 or 1.234", asked.Found, StringComparison.Ordinal);
            return;
        }
        using FilledKit kit = new FilledKit(language).Hole(cell, typed);

        Finding[] findings = [.. kit.Read().Findings.DistinctBy(finding => finding.Cell)];

        Assert.Equal(("kit-unsure", cell), (Assert.Single(findings).Code, findings[0].Cell));
        Assert.Contains(either, findings[0].Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("en", "lost", "lost")]
    [InlineData("de", "verloren", "verloren")]
    [InlineData("es", "perdido", "perdida")]
    [InlineData("fr", "perdu !", "perdu")]
    public void A_word_for_a_weight_is_sent_to_the_column_that_takes_it(string language, string typed, string _)
    {
        using FilledKit kit = new FilledKit(language).Hole("F5", typed);

        ReadResult read = kit.Read();

        Finding finding = Assert.Single(read.Findings);
        Phrases words = Language.Find(language)!;
        string column = words["kit.column.fast-state"], word = words["kit.word.condition.lost"];
        Assert.Equal(("kit-mass-word", "F5"), (finding.Code, finding.Cell));
        Assert.Contains($"choose '{word}' in the column '{column}'", finding.Mend, StringComparison.Ordinal);
        // in the sender's own language too
        string said = CheckTelling.Of(new CheckReport("sheet.xlsx", read, new DateOnly(2028, 1, 1)), words).Mend!.Rows[0][3];
        Assert.Equal(language == "en", said.Contains("leave the weight empty", StringComparison.OrdinalIgnoreCase));
        Assert.Contains(word, said, StringComparison.Ordinal);
        Assert.Contains(column, said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData("0")]
    [InlineData("0,0")]
    public void A_weight_of_nothing_is_refused(object typed)
    {
        using FilledKit kit = new FilledKit("de").Hole("F5", typed);

        Finding finding = Assert.Single(kit.Read().Findings);

        Assert.Equal(("kit-mass-zero", "F5"), (finding.Code, finding.Cell));
        Assert.Contains("verloren", finding.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_place_that_is_not_listed_is_answered_with_the_nearest_and_its_sheet()
    {
        using FilledKit kit = new FilledKit("de").Hole("B5", "Bachuffer");

        ReadResult read = kit.Read();

        Finding finding = Assert.Single(read.Findings.DistinctBy(f => f.Cell));
        string sheet = SenderWords.Find("de")!["kit.sheet.places"];
        Assert.Equal(("kit-place-unknown", "B5"), (finding.Code, finding.Cell));
        Assert.Contains($"the sheet '{sheet}', which has 'Bachufer'", finding.Expected, StringComparison.Ordinal);
        Assert.Contains("write 'Bachufer' if that was meant", finding.Mend, StringComparison.Ordinal);
        Assert.Contains("Bachufer", CheckTelling.Of(new CheckReport("sheet.xlsx", read, new DateOnly(2028, 1, 1)),
            SenderWords.Find("de")!).Mend!.Rows[0][3], StringComparison.Ordinal);
    }

    /// <summary>Santiago lies at 33.45 S, 70.66 W (any atlas; from memory), as people write that in four languages; Ost, este and est are
    /// east.</summary>
    [Theory]
    [InlineData("de", "33,45 S", "70,66 W", -33.45, -70.66)]
    [InlineData("de", "S 33,45", "W 70,66", -33.45, -70.66)]
    [InlineData("de", "33.45° S", "70.66° W", -33.45, -70.66)]
    [InlineData("de", "33,45° Süd", "70,66° West", -33.45, -70.66)]
    [InlineData("de", "33,45 Grad Süd", "9,29 Ost", -33.45, 9.29)]
    [InlineData("de", "48,73 N", "9,29 O", 48.73, 9.29)]
    [InlineData("es", "33,45 S", "70,66 O", -33.45, -70.66)]
    [InlineData("es", "33,45 sur", "70,66 Oeste", -33.45, -70.66)]
    [InlineData("es", "-33,45 S", "-70,66 O", -33.45, -70.66)]
    [InlineData("es", "33° 27' 0\" S", "70° 39' 36\" O", -33.45, -70.66)]
    [InlineData("es", "48,73 N", "9,29 E", 48.73, 9.29)]
    [InlineData("fr", "48,11 nord", "1,68 ouest", 48.11, -1.68)]
    [InlineData("fr", "48,73° N", "9,29° Est", 48.73, 9.29)]
    [InlineData("en", "33.45 S", "70.66 West", -33.45, -70.66)]
    [InlineData("en", "S33.45", "E 18.4", -33.45, 18.4)]
    public void A_coordinate_with_a_letter_lies_where_the_letter_says(
        string language, string latitude, string longitude, double north, double east)
    {
        using FilledKit kit = new FilledKit(language).Place("B5", latitude).Place("C5", longitude);
        ReadResult read = kit.Read();

        Assert.True(read.Contribution is not null, string.Join("\n", read.Findings));
        SiteRow site = Assert.Single(read.Contribution.Sites);
        Assert.Equal((north, east), (Math.Round(site.DecimalLatitude, 6), Math.Round(site.DecimalLongitude, 6)));
        // each is told with its cell, to be looked at
        Assert.Equal(["B5", "C5"], read.Warnings.Where(told => told.Code == "kit-typed").Select(told => told.Cell));
    }

    /// <summary>O is east in German and west in Spanish; a minus before N says both. Who drops the letter of what is refused would be on
    /// the other side of the Earth: no sentence advises it.</summary>
    [Theory]
    [InlineData("en", "C5", "70.66 O", "kit-unsure")]
    [InlineData("de", "B5", "-33,45 N", "kit-unsure")]
    [InlineData("de", "C5", "-9,29 O", "kit-unsure")]
    [InlineData("es", "B5", "33,45 O", "not-degrees")]
    [InlineData("fr", "C5", "9,29 S", "not-degrees")]
    [InlineData("de", "B5", "33,45 S (Garten)", "not-a-number")]
    [InlineData("es", "B5", "33,45 S y 70,66 O", "not-a-number")]
    public void A_coordinate_that_cannot_be_read_is_refused_without_dropping_its_letter(
        string language, string cell, string typed, string code)
    {
        using FilledKit kit = new FilledKit(language).Place(cell, typed);
        ReadResult read = kit.Read();

        Finding finding = Assert.Single(read.Findings);
        Assert.Equal((code, cell), (finding.Code, finding.Cell));
        foreach (string reader in SenderWords.Known)
        {
            Phrases words = SenderWords.Find(reader)!;
            string said = FindingWords.ToDo(finding, words), toAll = FindingWords.ToDo(PublicFinding.Of(finding)!, words);
            Assert.DoesNotContain(words["finding.not-a-number.mend"].TrimEnd('.'), said + toAll, StringComparison.OrdinalIgnoreCase);
            Assert.True(code != "not-a-number" || said.Contains("-33.45", StringComparison.Ordinal), said);
        }
    }

    [Fact]
    public void Depth_and_balance_have_cells_that_go_before_the_protocol()
    {
        using FilledKit planned = new("de");
        Assert.All(planned.Read().Contribution!.Bags, bag => Assert.Equal((12, 0.01), (bag.DepthCentimetres, bag.BalanceResolutionGrams)));

        using FilledKit measured = new FilledKit("de").Hole("L5", "9,5").AboutUs("B6", "0,1");
        Assert.All(measured.Read().Contribution!.Bags, bag => Assert.Equal((9.5, 0.1), (bag.DepthCentimetres, bag.BalanceResolutionGrams)));

        using FilledKit slip = new FilledKit("de").AboutUs("B6", "klein");
        Finding finding = Assert.Single(slip.Read().Findings);
        Assert.Equal(("B6", "bags.balance_resolution_g"), (finding.Cell, finding.Field));
    }

    /// <summary>The bags of a kit that is good but for how one cell was typed, and what is told of that cell.</summary>
    private static (IReadOnlyList<BagRow> Bags, Finding[] Told) Read(string language, string cell, string typed)
    {
        using FilledKit kit = new FilledKit(language).Hole(cell, typed);
        ReadResult read = kit.Read();
        Assert.True(read.Contribution is not null, string.Join("\n", read.Findings));
        return (read.Contribution.Bags, [.. read.Warnings.Where(warning => warning.Code == "kit-typed" && warning.Cell == cell)]);
    }
}
