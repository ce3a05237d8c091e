namespace DecayAtlas.Contributions.Tests.Reports;

/// <summary>Numbers and days in sentences stand as the language writes them, and as the workbook of the sender shows them.</summary>
public class NumbersInSentences
{
    [Theory]
    [InlineData("de", "5,9846", "-5,9846")]
    [InlineData("es", "5,9846", "-5,9846")]
    [InlineData("fr", "5,9846", "-5,9846")]
    [InlineData("en", "5.9846", "-5.9846")]
    public void A_missing_minus_is_told_with_the_decimal_sign_of_the_language(string code, string found, string meant)
    {
        Phrases words = SenderWords.Find(code)!;
        Finding finding = new(FindingCode.SignMissing, "sites.csv", 2, "decimal_longitude", "5.9846", "a place in the stated country, ES",
            "is the minus sign (west) missing? It would be -5.9846");

        string line = FindingWords.Sentence(finding, words);

        Assert.Contains(" " + found, line, StringComparison.Ordinal);
        Assert.Contains(meant, line, StringComparison.Ordinal);
        if (code != "en")
            Assert.DoesNotContain("5.9846", line, StringComparison.Ordinal);
    }

    [Fact]
    public void The_mass_of_a_lost_bag_is_a_number_and_no_quotation() => Assert.Contains(": 1,52 g;", FindingWords.Sentence(
        new Finding(FindingCode.LostYetWeighed, "bags.csv", 2, "condition", "1.52 g", "no final mass beside a lost bag",
            "the mass does not count: empty it"), SenderWords.Find("de")!), StringComparison.Ordinal);

    // French sets a space before the semicolon that no line breaks at
    [Fact]
    public void What_was_read_is_listed_as_French_lists() => Assert.Contains("2,95\u00a0; 1,53", FindingWords.Sentence(
        new Finding(FindingCode.KitTyped, "sheet.xlsx", "numbers typed as text, as '2,95 g' (E5)", "read as 2.95; 1.53",
            "nothing is to be done if that is right; else type it again"), SenderWords.Find("fr")!).Replace('\u202f', '\u00a0'),
        StringComparison.Ordinal);

    [Theory]
    [InlineData("fr", "3,51", "14/04/2026")]
    [InlineData("de", "3,51", "14.04.2026")]
    [InlineData("en", "3.51", "2026-04-14")]
    public void The_piece_of_a_workbook_shows_cells_as_the_workbook_does(string code, string mass, string day)
    {
        SheetRow[] rows =
        [
            new(1, [SheetCell.OfText("before"), SheetCell.OfText("day")]),
            new(2, [new SheetCell(SheetCellKind.Number, "3.51"), new SheetCell(SheetCellKind.Date, "2026-04-14")]),
        ];
        Finding[] findings = [new(FindingCode.MassTenfold, "a.xlsx", 2, "before", "", "", "") { Sheet = "Holes" }];

        MarkedSheet marked = Assert.Single(MarkedSheet.Of([new Sheet("a.xlsx", "Holes", rows)], findings, SenderWords.Find(code)!));
        // a table of text is as it was typed
        MarkedSheet typed = Assert.Single(MarkedSheet.Of([new Sheet("a.csv", null, [rows[0],
            new SheetRow(2, [SheetCell.OfText("3.51"), SheetCell.OfText("2026-04-14")])])],
            [findings[0] with { File = "a.csv", Sheet = null }], SenderWords.Find(code)!));

        Assert.Equal([mass, day], marked.Lines[1].Cells);
        Assert.Equal(["3.51", "2026-04-14"], typed.Lines[1].Cells);
    }

    // the tab is called so in each kit, and no text calls it otherwise
    [Fact]
    public void The_sheet_with_the_version_number_is_called_by_its_tab()
    {
        foreach (Phrases words in SenderWords.Known.Select(code => SenderWords.Find(code)!))
        {
            string tab = words["kit.sheet." + KitForm.About];
            Assert.Contains(tab, FindingWords.VersionIn(ContributionFormat.Kit, words), StringComparison.Ordinal);
            // who sent something else has no such sheet
            string other = FindingWords.VersionIn(ContributionFormat.DataPackage, words);
            Assert.DoesNotContain(tab, other, StringComparison.Ordinal);
            Assert.Contains("datapackage.json", other, StringComparison.Ordinal);
            Assert.Contains(tab, FindingWords.ToDo(PublicFinding.Of(new Finding(FindingCode.RevisionRepeated, "datapackage.json", null,
                "/revision", "", "", ""))!, words), StringComparison.Ordinal);
            Assert.Contains(tab, FindingWords.Sentence(new Finding(FindingCode.RevisionRepeated, "sheet.xlsx", null, null,
                "revision 1 of a, which was accepted before with other content", "a higher revision, as a correction needs one",
                $"set the number of this version to 2 on the sheet \"{tab}\" of the kit, then send all of it again"), words),
                StringComparison.Ordinal);
        }
    }
}
