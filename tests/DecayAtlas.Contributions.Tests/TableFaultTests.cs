using System.Text;

namespace DecayAtlas.Contributions.Tests;

/// <summary>One kind of bad table a test; each asserts the parts of the sentence that a contributor gets.</summary>
public class TableFaultTests
{
    private static void Says(Finding finding, string code, string file, int? row, string? column, string found, string expected,
        string mend)
    {
        Assert.Equal((code, file, row, column), (finding.Code, finding.File, finding.Row, finding.Column));
        Assert.Contains(found, finding.Found, StringComparison.Ordinal);
        Assert.Contains(expected, finding.Expected, StringComparison.Ordinal);
        Assert.Contains(mend, finding.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_finding_is_one_sentence_with_place_found_expected_and_remedy()
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,");

        Assert.Equal(
            "bags.csv, row 2, column mass_initial_g: found 4,12, expected a number with a decimal point; write 4.12, or save the file "
            + "again with a decimal point.",
            example.OnlyFinding().ToString());
    }

    /// <summary>The sides of the Earth by their letters; O is east to some and west to others.</summary>
    [Theory]
    [InlineData("33.45 S", "write -33.45")]
    [InlineData("S 33.45", "write -33.45")]
    [InlineData("33.45° N", "write 33.45")]
    [InlineData("33.45 O", "south and west with a minus")]
    [InlineData("about 33", "south and west with a minus")]
    public void A_latitude_with_a_letter_is_answered_with_its_sign(string typed, string mend)
    {
        using Example example = new Example().Replace("sites.csv", ",47.31025,", $",{typed},");

        Says(example.OnlyFinding(), "not-a-number", "sites.csv", 2, "decimal_latitude", typed, "a number from", mend);
    }

    [Fact]
    public void A_missing_required_column_is_named()
    {
        using Example example = new Example().Replace("sites.csv", "decimal_latitude,", "latitude_of_the_place,");

        IReadOnlyList<Finding> findings = example.Read().Findings;

        Assert.Equal(2, findings.Count);
        Says(findings[0], "column-extra", "sites.csv", 1, "latitude_of_the_place", "'latitude_of_the_place'",
            "only columns of the table sites", "take the column out");
        Says(findings[1], "column-missing", "sites.csv", 1, "decimal_latitude", "no such column", "required column decimal_latitude",
            "add the column");
    }

    [Fact]
    public void Two_tables_in_each_others_place_are_told_as_that_and_not_column_by_column()
    {
        using Example example = new();
        (string sites, string bags) = (example.FileAt("sites.csv"), example.FileAt("bags.csv"));
        File.Move(sites, sites + ".x");
        File.Move(bags, sites);
        File.Move(sites + ".x", bags);

        IReadOnlyList<Finding> findings = example.Read().Findings;

        Assert.Equal(2, findings.Count);
        Says(findings[0], "table-other", "sites.csv", 1, null, "the columns of the table bags", "the columns of the table sites",
            "exchange the two");
        Says(findings[1], "table-other", "bags.csv", 1, null, "the columns of the table sites", "the columns of the table bags",
            "exchange the two");
    }

    [Fact]
    public void A_misspelt_column_gets_the_right_name_suggested()
    {
        using Example example = new Example().Replace("bags.csv", "mass_initial_g", "mass_inital_g");

        Says(example.OnlyFinding(), "column-extra", "bags.csv", 1, "mass_inital_g", "'mass_inital_g'", "mass_initial_g",
            "rename it to mass_initial_g");
    }

    [Fact]
    public void A_repeated_column_is_named()
    {
        using Example example = new Example().Replace("bags.csv", ",plot,", ",site_id,");

        Says(example.OnlyFinding(), "column-repeated", "bags.csv", 1, "site_id", "a second time", "each column once", "take one");
    }

    [Fact]
    public void A_column_without_a_name_is_told()
    {
        using Example example = new Example().Replace("bags.csv", ",plot,", ",,");

        Says(example.OnlyFinding(), "column-extra", "bags.csv", 1, null, "column 4 without a name", "only columns", "take the column out");
    }

    [Fact]
    public void An_optional_column_may_be_left_out_and_columns_may_come_in_any_order()
    {
        using Example example = new();
        File.WriteAllText(example.FileAt("samples.csv"), "accession,bag_id,sample_id\nX1,wood-1-1-S,a\n");

        Assert.Equal(new SampleRow(2, "a", "wood-1-1-S", null, null, "X1", null, null, null, null, null, null, null, null, null),
            Assert.Single(example.Read().Contribution!.Samples));
    }

    [Fact]
    public void A_semicolon_file_with_decimal_commas_is_recognised_and_both_are_named()
    {
        using Example example = new();
        string text = File.ReadAllText(example.FileAt("lots.csv")).Replace(", lot sheet", " lot sheet", StringComparison.Ordinal)
            .Replace("\"", "", StringComparison.Ordinal);
        File.WriteAllText(example.FileAt("lots.csv"), text.Replace(',', ';').Replace("0.78", "0,78", StringComparison.Ordinal));

        IReadOnlyList<Finding> findings = example.Read().Findings;

        Assert.Equal(2, findings.Count);
        Says(findings[0], "delimiter-not-comma", "lots.csv", 1, null, "separated by semicolons", "separated by commas",
            "save the table as");
        Says(findings[1], "decimal-comma", "lots.csv", 2, "hydrolysable_fraction", "0,78", "a number with a decimal point", "write 0.78");
    }

    [Fact]
    public void A_decimal_comma_that_splits_a_cell_is_told_as_one_cell_too_many()
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",4,12,1.94,");

        Says(example.OnlyFinding(), "row-width", "bags.csv", 2, null, "30 cells", "29 cells", "decimal point");
    }

    [Fact]
    public void A_row_that_ends_early_is_told()
    {
        using Example example = new Example().Replace("samples.csv", ",214,3.62,sequence variants in 10000 reads drawn,,,,,",
            ",214");

        Says(example.OnlyFinding(), "row-width", "samples.csv", 2, null, "7 cells", "14 cells", "even an empty one");
    }

    [Theory]
    [InlineData("2024-02-31", "date-impossible", "2024-02-31", "a day that exists", "month 2 of 2024 has 29 days")]
    [InlineData("2023-02-29", "date-impossible", "2023-02-29", "a day that exists", "month 2 of 2023 has 28 days")]
    [InlineData("2024-13-01", "date-impossible", "2024-13-01", "a day that exists", "there is no month 13")]
    [InlineData("14/05/2024", "not-a-date", "'14/05/2024'", "YYYY-MM-DD", "year, month and day")]
    [InlineData("2024-5-14", "not-a-date", "'2024-5-14'", "YYYY-MM-DD", "year, month and day")]
    [InlineData("0204-05-14", "out-of-range", "0204-05-14", "not before 1900-01-01", "correct the year")]
    public void Impossible_and_misspelt_dates_are_told_apart(string date, string code, string found, string expected, string mend)
    {
        using Example example = new Example().Replace("bags.csv", "0.09,2024-05-14", "0.09," + date);

        Says(example.OnlyFinding(), code, "bags.csv", 2, "buried_on", found, expected, mend);
    }

    [Theory]
    [InlineData("4.12 g", "not-a-number", "'4.12 g'", "a number from 0.001 to 10000 in g", "without unit")]
    [InlineData(" 4.12", "not-a-number", "' 4.12'", "a number", "take out the spaces")]
    [InlineData("NA", "not-a-number", "'NA'", "a number", "leave the cell empty")]
    [InlineData("NaN", "not-a-number", "'NaN'", "a number", "leave the cell empty")]
    [InlineData("1e999", "not-a-number", "'1e999'", "a number", "leave the cell empty")]
    [InlineData("-4.12", "out-of-range", "-4.12", "from 0.001 to 10000", "its unit is g")]
    [InlineData("0", "out-of-range", "0", "from 0.001 to 10000", "its unit is g")]
    public void What_is_not_a_usable_number_is_told(string mass, string code, string found, string expected, string mend)
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", $",{mass},1.94,");

        Says(example.OnlyFinding(), code, "bags.csv", 2, "mass_initial_g", found, expected, mend);
    }

    [Theory]
    [InlineData("2", 2.0)]
    [InlineData("+2.50", 2.5)]
    [InlineData("2.5e0", 2.5)]
    [InlineData(".5", 0.5)]
    public void Every_usual_way_to_write_a_number_is_read(string mass, double grams)
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", $",{mass},1.94,");

        Assert.Equal(grams, example.Read().Contribution!.Bags[0].MassInitialGrams);
    }

    [Fact]
    public void A_word_outside_a_closed_list_is_told_with_the_list_and_the_nearest_word()
    {
        using Example example = new Example().Replace("bags.csv", ",,,oven,", ",,,Ovens,");

        Says(example.Read().Findings[0], "value-not-allowed", "bags.csv", 2, "drying", "'Ovens'", "one of oven, air", "write oven");
    }

    [Fact]
    public void A_word_of_the_sender_s_own_is_taken_and_told_with_the_nearest_of_ours()
    {
        using Example example = new Example().Replace("sites.csv", ",grassland,", ",Grasland,");

        ReadResult result = example.Read();

        Says(Assert.Single(result.OtherWarnings()), "word-not-ours", "sites.csv", 2, "ecosystem", "'Grasland'", "one of forest, woodland",
            "write grassland, if that was meant");
        Assert.Equal("Grasland", result.Contribution!.Sites[0].Ecosystem);
    }

    [Theory]
    [InlineData("Grassland")]
    [InlineData("GRASS-LAND")]
    public void Another_spelling_of_our_word_is_nothing_to_tell(string spelling)
    {
        using Example example = new Example().Replace("sites.csv", ",grassland,", $",{spelling},");

        ReadResult result = example.Read();

        Assert.Empty(result.OtherWarnings());
        Assert.Equal("grassland", result.Contribution!.InOurWords(LocalWords.None).Sites[0].Ecosystem);
    }

    [Fact]
    public void A_boolean_is_yes_or_no()
    {
        using Example example = new Example().Replace("sites.csv", ",15,no,", ",15,true,");

        Says(example.OnlyFinding(), "not-yes-or-no", "sites.csv", 2, "coordinates_sensitive", "'true'", "yes or no", "small letters");
    }

    [Fact]
    public void A_pattern_covers_the_whole_text()
    {
        using Example example = new Example().Replace("sites.csv", ",no,ZZ,", ",no,ZZZ,");

        Says(example.OnlyFinding(), "pattern-mismatch", "sites.csv", 2, "country_code", "'ZZZ'", "[A-Z]{2}", "for example ZZ");
    }

    [Fact]
    public void An_empty_cell_in_a_required_column_is_told()
    {
        using Example example = new Example().Replace("bags.csv", "meadow-1-1-F,meadow-1-1,", "meadow-1-1-F,,");

        Says(example.OnlyFinding(), "value-missing", "bags.csv", 2, "burial_id", "an empty cell", "required", "fill it in");
    }

    [Fact]
    public void A_repeated_id_names_the_row_that_has_it_already()
    {
        using Example example = new Example().Replace("bags.csv", "meadow-1-2-S,", "meadow-1-1-S,");

        Says(example.OnlyFinding(), "id-repeated", "bags.csv", 5, "bag_id", "meadow-1-1-S, which row 3 has already", "no other row has",
            "another id");
    }

    [Fact]
    public void A_sample_may_not_come_twice()
    {
        using Example example = new Example().Replace("samples.csv", "wood-1-1-S-16s", "meadow-1-1-S-its");

        Says(example.OnlyFinding(), "id-repeated", "samples.csv", 3, "sample_id", "which row 2 has already", "no other row has",
            "another id");
    }

    [Theory]
    [InlineData("bags.csv", "wood-1,A,1,F-07", "wood-1,A,1,F-70", 6, "lot_id", "F-70", "a lot_id of the table lots")]
    [InlineData("bags.csv", "wood-1-1,wood-1,A,1,F-07", "wood-1-1,moor,A,1,F-07", 6, "site_id", "moor", "a site_id of the table sites")]
    [InlineData("samples.csv", "its,meadow-1-1-S", "its,meadow-9-9-S", 2, "bag_id", "meadow-9-9-S", "a bag_id of the table bags")]
    public void A_reference_to_an_unknown_row_is_told(string file, string old, string @new, int row, string column, string found,
        string expected)
    {
        using Example example = new Example().Replace(file, old, @new);

        Says(example.OnlyFinding(), "id-unknown", file, row, column, found, expected, "add the row to");
    }

    [Fact]
    public void A_fault_in_a_lot_does_not_make_its_bags_wrong_too()
    {
        using Example example = new Example().Replace("lots.csv", "F-07,fast,0.78", "F-07,fast,7.8");

        Says(example.OnlyFinding(), "out-of-range", "lots.csv", 2, "hydrolysable_fraction", "7.8", "from 0.001 to 1", "correct the number");
    }

    [Fact]
    public void The_first_byte_that_is_not_utf8_is_told_with_its_line()
    {
        using Example example = new();
        byte[] latin =
            Encoding.Latin1
                .GetBytes(File.ReadAllText(example.FileAt("sites.csv")).Replace("north-facing slope", "Südhang", StringComparison.Ordinal));
        File.WriteAllBytes(example.FileAt("sites.csv"), latin);

        int at = Array.IndexOf(latin, (byte)0xFC) + 1;
        Finding finding = Assert.Single(example.Read().Findings, finding => finding.Code == "encoding-not-utf8");
        Says(finding, "encoding-not-utf8", "sites.csv", 2, null, $"the byte 0xFC at byte {at} of the file", "UTF-8", "CSV UTF-8");
    }

    [Fact]
    public void Utf16_is_recognised()
    {
        using Example example = new();
        File.WriteAllText(example.FileAt("lots.csv"), File.ReadAllText(example.FileAt("lots.csv")), Encoding.Unicode);

        Says(example.OnlyFinding(), "encoding-not-utf8", "lots.csv", 1, null, "UTF-16", "UTF-8", "save it again");
    }

    [Fact]
    public void A_byte_order_mark_and_windows_line_ends_are_accepted()
    {
        using Example example = new();
        foreach (string file in Directory.GetFiles(example.Copy))
            File.WriteAllText(file, File.ReadAllText(file).Replace("\n", "\r\n", StringComparison.Ordinal), new UTF8Encoding(true));

        ReadResult result = example.Read();

        Assert.Empty(result.Findings);
        Assert.Equal(9, result.Contribution!.Bags[^1].Row);
    }

    [Fact]
    public void Commas_quotes_and_line_ends_in_a_text_are_kept_and_rows_still_count_lines()
    {
        using Example example = new Example().Replace("bags.csv", "\"not found, the marker had been dug out\"",
            "\"one, \"\"two\"\"\nthree\"");
        example.Replace("bags.csv", ",4.50,3.70,", ",x,3.70,");

        Assert.Equal(10, example.OnlyFinding().Row);
        example.Replace("bags.csv", ",x,3.70,", ",4.50,3.70,");
        Assert.Equal("one, \"two\"\nthree", example.Read().Contribution!.Bags[6].Notes);
    }

    [Fact]
    public void A_quotation_mark_that_is_never_closed_is_told()
    {
        using Example example = new Example().Replace("bags.csv", "dug out\"", "dug out");

        Finding finding = Assert.Single(example.Read().Findings, finding => finding.Code == "csv-broken");
        Says(finding, "csv-broken", "bags.csv", null, null, "odd number of quotation marks", "closed", "twice");
    }

    [Fact]
    public void A_contribution_without_bags_is_told()
    {
        using Example example = new();
        File.WriteAllText(example.FileAt("bags.csv"), File.ReadLines(example.FileAt("bags.csv")).First() + "\n");
        File.WriteAllText(example.FileAt("samples.csv"), File.ReadLines(example.FileAt("samples.csv")).First() + "\n");

        Says(example.OnlyFinding(), "table-empty", "bags.csv", null, null, "a header without rows", "at least one row",
            "fill in the table");
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_table_without_a_header_is_told_once_and_nothing_else_of_its_columns(bool hasMoreRows)
    {
        using Example example = new();
        string[] rows = [.. File.ReadLines(example.FileAt("sites.csv")).Skip(1)];
        File.WriteAllLines(example.FileAt("sites.csv"), hasMoreRows ? rows : rows[..1]);

        Finding finding = Assert.Single(example.Read().Findings, f => f.File == "sites.csv");
        Says(finding, "header-missing", "sites.csv", 1, null, "data, not the names of columns, in the first row", "site_id, ",
            "write the header as the first line");
        Assert.All(SchemaCatalogue.Sites.ColumnNames, name => Assert.Contains(name, finding.Expected, StringComparison.Ordinal));
    }

    [Fact]
    public void A_header_in_which_every_name_is_misspelt_is_told_name_by_name()
    {
        using Example example = new();
        string[] lines = File.ReadAllLines(example.FileAt("lots.csv"));
        lines[0] = lines[0].ToUpperInvariant();
        File.WriteAllLines(example.FileAt("lots.csv"), lines);

        Finding[] findings = [.. example.Read().Findings.Where(f => f.File == "lots.csv")];
        int renamed = findings.Count(f => f.Code == "column-extra" && f.Mend.StartsWith("rename it to ", StringComparison.Ordinal));
        Assert.Equal(lines[0].Split(',').Length, renamed);
        Assert.DoesNotContain(findings, f => f.Code == "header-missing");
    }

    [Fact]
    public void A_file_of_no_bytes_is_told()
    {
        using Example example = new();
        File.WriteAllText(example.FileAt("lots.csv"), "");

        Says(example.Read().Findings[0], "header-missing", "lots.csv", null, null, "an empty file", "a header", "first line");
    }

    [Fact]
    public void More_rows_than_the_limit_are_told()
    {
        using Example example = new();

        Says(example.OnlyFinding(IntakeLimits.Default with { MaxRows = 7 }), "too-many-rows", "bags.csv", null, null, "more than 7 rows",
            "at most 7", "split");
    }

    private static void AppendBags(Example example, int count, Func<int, string, string> spoil)
    {
        string row = File.ReadLines(example.FileAt("bags.csv")).Skip(1).First();
        File.AppendAllLines(example.FileAt("bags.csv"), Enumerable.Range(0, count).Select(i =>
            spoil(i, row.Replace("meadow-1-1-F", FormattableString.Invariant($"extra-{i}"), StringComparison.Ordinal))));
    }

    [Fact]
    public void Of_one_kind_of_finding_20_are_listed_so_that_they_do_not_hide_the_others()
    {
        using Example example = new Example().Replace("samples.csv", "wood-1-1-S", "wood-9-9-S");
        AppendBags(example, 1000, (_, row) => row.Replace("4.12", "much", StringComparison.Ordinal));

        IReadOnlyList<Finding> findings = example.Read().Findings;

        Assert.Equal(20, findings.Count(finding => finding.Code == "not-a-number"));
        Assert.Single(findings, finding => finding.Code == "id-unknown");
        Says(findings[^1], "more-findings", "group-a", null, null, "1001 findings, of which 21 are listed", "none",
            "mend the listed ones first");
    }

    [Fact]
    public void No_more_than_200_findings_are_listed_and_the_rest_is_counted()
    {
        using Example example = new();
        AppendBags(example,
            100, (_, row) =>
                string.Concat(row.AsSpan(0, row.IndexOf(',', StringComparison.Ordinal)), ",?,?,A,1,?,?,,?,?,?,,,,?,?,,,?,?,?,?,?,?,,?,,,"));

        IReadOnlyList<Finding> findings = example.Read().Findings;

        Assert.Equal(201, findings.Count);
        Says(findings[^1], "more-findings", "group-a", null, null,
            "1600 findings, of which 200 are listed (at most 20 of a kind and 200 in all)", "none", "mend");
    }

    [Fact]
    public void An_email_address_is_not_repeated_in_a_finding()
    {
        using Example example = new Example().Replace("sites.csv", ",no,ZZ,", ",no,someone@example.org,");

        Assert.DoesNotContain("someone@", example.OnlyFinding().ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_of_bare_commas_that_a_spreadsheet_leaves_are_no_rows()
    {
        using Example example = new();
        File.AppendAllText(example.FileAt("samples.csv"), ",,,\n\n,,,\n");

        Assert.Equal(3, example.Read().Contribution!.Samples.Count);
    }

    [Fact]
    public void A_first_line_without_end_is_told()
    {
        using Example example = new();
        File.WriteAllText(example.FileAt("lots.csv"), new string('x', 100_000));

        Says(example.Read().Findings[0], "csv-broken", "lots.csv", null, null, "a first line of more than 65536 characters", "a header",
            "one line a row");
    }
}
