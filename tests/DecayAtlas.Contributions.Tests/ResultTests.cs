namespace DecayAtlas.Contributions.Tests;

/// <summary>Means that stand for burials: the table results, with and without weighings beside it.</summary>
public class ResultTests
{
    [Fact]
    public void A_contribution_of_results_needs_no_bags()
    {
        ReadResult result = ContributionReader.Read(Example.OfResults, IntakeLimits.Default);

        Assert.Empty(result.Findings);
        Assert.Empty(result.OtherWarnings());
        Assert.Empty(result.Contribution!.Bags);
        Assert.Equal(2, result.Contribution.Results.Count);
        Assert.Equal(
            new ResultRow(2, "bog-1-2019", "bog-1", null, EvidenceKind.Summarised, 6, new DateOnly(2019, 5, 6), new DateOnly(2019, 8, 4),
                null, null, 8, "F-07", "S-03", StatedBasis.Dry, 0.442, 0.021, 0.753, 0.026, null, null, null, null, null, null, null,
                null, null, null),
            result.Contribution.Results[0]);
        Assert.Equal(
            new ResultRow(3, "heath-1-2019", "heath-1", null, EvidenceKind.Reported, 5, new DateOnly(2019, 5, 7),
                new DateOnly(2019, 8, 6), null, null, 8, "F-07", "S-03", StatedBasis.Dry, null, null, null, null, null, 0.0113, 0.0021,
                0.285, 0.03, ErrorKind.Sd, ResultMethod.TwoLitter, 0.79, 0.52, null),
            result.Contribution.Results[1]);
        Assert.Equal(91, result.Contribution.Results[1].Exposure);
    }

    [Fact]
    public void The_summary_counts_the_burials_that_results_stand_for()
    {
        CheckReport report =
            new("example-results", ContributionReader.Read(Example.OfResults, IntakeLimits.Default), Example.Today);
        CheckTelling telling = CheckTelling.Of(report, SenderWords.Find("en")!);

        Assert.Contains(("rows of means", "2, for 11 burials"), telling.Facts);
        Assert.Contains(("of these with k", "2 of 2 (summarised 1 of 1, reported 1 of 1)"), telling.Facts);
        Assert.DoesNotContain(telling.Facts, fact => fact.What == "burials");
        Assert.Contains(("last retrieval", "6 August 2019"), telling.Facts);
    }

    [Fact]
    public void Results_beside_bags_are_read_with_them()
    {
        using Example example = new();
        string[] results = File.ReadAllLines(Path.Combine(Example.OfResults, "results.csv"));
        File.WriteAllLines(
            example.FileAt("results.csv"), [results[0], results[1].Replace(",bog-1,", ",wood-1,", StringComparison.Ordinal)]);
        example.Replace("datapackage.json", "\"name\": \"samples\",", """
            "name": "results", "path": "results.csv" }, { "name": "samples",
            """);

        Contribution contribution = example.Read().Contribution!;
        Assert.Equal((8, 1), (contribution.Bags.Count, contribution.Results.Count));
    }

    [Theory]
    [InlineData("reported,5", "guessed,5", "value-not-allowed", "evidence", "'guessed'")]
    [InlineData("reported,5", "reported,0", "out-of-range", "burials", "0")]
    [InlineData("reported,5", "reported,2.5", "not-a-number", "burials", "2.5")]
    [InlineData(",0.0113,", ",11.3,", "out-of-range", "k_per_day", "11.3")]
    [InlineData(",0.442,", ",44.2,", "out-of-range", "fast_remaining_mean", "44.2")]
    [InlineData("heath-1-2019", "bog-1-2019", "id-repeated", "result_id", "bog-1-2019")]
    [InlineData(",F-07,S-03,dry,0.442", ",F-09,S-03,dry,0.442", "id-unknown", "fast_lot_id", "F-09")]
    [InlineData("two-litter", "by-eye", "value-not-allowed", "method", "'by-eye'")]
    public void A_cell_that_cannot_be_so_is_told(string old, string @new, string code, string column, string found)
    {
        using Example example = new Example(from: Example.OfResults).Replace("results.csv", old, @new);

        Finding finding = example.OnlyFinding();
        Assert.Equal((code, "results.csv", column), (finding.Code, finding.File, finding.Column));
        Assert.Contains(found, finding.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lot_that_is_named_where_no_lots_are_sent_is_told()
    {
        using Example example = new Example(from: Example.OfResults).Replace("datapackage.json", """
                {
                  "name": "lots",
                  "path": "lots.csv",
                  "format": "csv",
                  "mediatype": "text/csv",
                  "encoding": "utf-8"
                },
            """.ReplaceLineEndings("\n"), "");
        File.Delete(example.FileAt("lots.csv"));

        Assert.Equal(["fast_lot_id", "slow_lot_id", "fast_lot_id", "slow_lot_id"], example.Read().Findings.Select(f => f.Column));
        Assert.All(example.Read().Findings, f => Assert.Equal(("id-unknown", "add the row to lots, or correct the id"), (f.Code, f.Mend)));
    }

    [Theory]
    [InlineData(",0.753,0.026,", ",,,", "slow_remaining_mean",
        "a summarised row 'bog-1-2019' without slow_remaining_mean, slow_remaining_sd")]
    [InlineData("F-07,S-03,dry,0.442", ",,dry,0.442", "fast_lot_id", "a summarised row 'bog-1-2019' without fast_lot_id, slow_lot_id")]
    [InlineData(",sd,two-litter", ",,", "errors_are", "a reported row 'heath-1-2019' without errors_are, method")]
    public void A_row_that_will_not_be_compared_is_told_and_not_refused(string old, string @new, string column, string found)
    {
        using Example example = new Example(from: Example.OfResults).Replace("results.csv", old, @new);

        ReadResult result = example.Read();
        Assert.NotNull(result.Contribution);
        Finding warning = Assert.Single(result.OtherWarnings());
        Assert.Equal(("result-incomplete", "results.csv", column, found), (warning.Code, warning.File, warning.Column, warning.Found));
    }

    [Theory]
    [InlineData(",2019-08-04,,,8,F-07", ",2019-08-04,30,,8,F-07", "result-days-differ", "exposure_days", "30 with dates 90 days apart")]
    [InlineData(",0.442,0.021,", ",0.442,0,", "result-without-scatter", "burials", "6 burials with a standard deviation of 0")]
    [InlineData(",0.026,,,,", ",0.026,,0.01,,", "result-of-two-kinds", "k_per_day",
        "a summarised row with k or S, which are computed from its means and not taken from it")]
    public void A_row_that_contradicts_itself_is_told_and_not_refused(string old, string @new, string code, string column, string found)
    {
        using Example example = new Example(from: Example.OfResults).Replace("results.csv", old, @new);

        ReadResult result = example.Read();
        Assert.NotNull(result.Contribution);
        Finding warning = Assert.Single(result.OtherWarnings());
        Assert.Equal((code, "results.csv", column, found), (warning.Code, warning.File, warning.Column, warning.Found));
    }

    [Theory]
    [InlineData("bags.csv", "gross,oven,,,oven,70,,,0.09,", "gross,oven,0.06,,oven,70,,,0.09,", "dried-and-moist",
        "moisture_initial_fraction", "0.06 of oven-dried litter")]
    [InlineData("bags.csv", "gross,oven,,,oven,70,,,0.09,", "gross,oven,,,oven,70,0.5,,0.09,", "dried-and-moist",
        "moisture_final_fraction", "0.5 of oven-dried litter")]
    [InlineData("bags.csv", "gross,oven,,,oven,70,,,0.09,", "gross,oven,,0.01,oven,70,,,0.09,", "sd-without-value",
        "moisture_initial_fraction_sd", "0.01 without moisture_initial_fraction")]
    [InlineData("lots.csv", "0.78,0.02,dry,all-soluble,,,", "0.78,0.02,dry,all-soluble,,0.01,", "sd-without-value",
        "nonpolar_fraction_sd", "0.01 without nonpolar_fraction")]
    [InlineData("lots.csv", "0.78,0.02,dry,all-soluble,,,,,", "0.78,0.02,dry,acid-soluble,,,0.2,,", "chemistry-impossible",
        "hydrolysable_fraction", "fractions of lot 'F-07' that come to 1.03 of the litter")]
    public void A_measurement_that_contradicts_another_is_told_and_not_refused(
        string file, string old, string @new, string code, string column, string found)
    {
        using Example example = new Example().Replace(file, old, @new);

        ReadResult result = example.Read();
        Assert.NotNull(result.Contribution);
        Finding warning = Assert.Single(result.OtherWarnings());
        Assert.Equal((code, file, column, found), (warning.Code, warning.File, warning.Column, warning.Found));
    }

    [Fact]
    public void A_workbook_with_results_needs_no_sheet_of_bags()
    {
        XlsxMaker workbook = XlsxMaker.Example().Drop("bags").Drop("samples").Drop("lots")
            .Sheet("results", ["result_id", "site_id", "evidence", "burials", "buried_on", "exposure_days", "k_per_day", "method"],
                ["r1", "wood-1", "reported", 4.0, "2024-05-14", 91.0, 0.011, "other"]);
        string file = Path.Combine(Directory.CreateTempSubdirectory("results-").FullName, "means.xlsx");
        File.WriteAllBytes(file, workbook.ToBytes());

        ReadResult result = ContributionReader.Read(file, IntakeLimits.Default);
        Assert.Empty(result.Findings);
        ResultRow row = Assert.Single(result.Contribution!.Results);
        Assert.Equal((4, 91.0, new DateOnly(2024, 8, 13), 0.011), (row.Burials, row.Exposure, row.LastDay, row.RatePerDay));
        Assert.Equal("results", Assert.Single(result.OtherWarnings()).Sheet);
    }

    [Fact]
    public void A_contribution_of_one_litter_alone_is_taken()
    {
        using Example example = new();
        string[] lines = File.ReadAllLines(example.FileAt("bags.csv"));
        File.WriteAllLines(example.FileAt("bags.csv"), lines.Where(line => !line.Contains(",slow,", StringComparison.Ordinal)));
        lines = File.ReadAllLines(example.FileAt("lots.csv"));
        File.WriteAllLines(example.FileAt("lots.csv"), lines.Where(line => !line.Contains(",slow,", StringComparison.Ordinal)));
        lines = File.ReadAllLines(example.FileAt("samples.csv"));
        File.WriteAllLines(example.FileAt("samples.csv"), lines.Where(line => !line.Contains("-S,", StringComparison.Ordinal)));

        ReadResult result = example.Read();
        Assert.Empty(result.Findings);
        Assert.Equal(4, result.Contribution!.Bags.Count);
    }

    private const string WideHeader = "Site;Lat;Lon;n;buried;retrieved;days;fast lot;slow lot;fast remaining (%);fast sd (%);"
        + "slow remaining (%);slow sd (%);k;k se;S;S se\n";

    private const string WideRows = "bog-1;47,40112;-11,3025;6;06.05.2019;04.08.2019;;F-07;S-03;44,2;2,1;75,3;2,6;;;;\n"
        + "heath-1;47,42055;-11,28814;5;07.05.2019;06.08.2019;;;;;;;;0,0113;0,0021;0,285;0,03\n";

    private const string WideMapping = """
        version: 1
        file: { separator: semicolon, decimal_sign: comma, date_order: dmy }
        one_row_is: result
        package: { name: means, contributor: group, campaign: c, protocol: p, licence: CC0-1.0 }
        sites:
          site_id: { column: Site }
          decimal_latitude: { column: Lat }
          decimal_longitude: { column: Lon }
        lots:
          - { lot_id: F-07, role: fast, hydrolysable_fraction: 0.78, hydrolysable_fraction_sd: 0.02 }
          - { lot_id: S-03, role: slow, hydrolysable_fraction: 0.51, hydrolysable_fraction_sd: 0.04 }
        results:
          result_id: { column: Site }
          site_id: { column: Site }
          evidence: { column: Site, words: { bog-1: summarised, heath-1: reported } }
          burials: { column: n }
          buried_on: { column: buried }
          retrieved_on: { column: retrieved }
          exposure_days: { column: days }
          fast_lot_id: { column: fast lot }
          slow_lot_id: { column: slow lot }
          fast_remaining_mean: { column: fast remaining (%), unit: percent }
          fast_remaining_sd: { column: fast sd (%), unit: percent }
          slow_remaining_mean: { column: slow remaining (%), unit: percent }
          slow_remaining_sd: { column: slow sd (%), unit: percent }
          k_per_day: { column: k }
          k_error_per_day: { column: k se }
          s: { column: S }
          s_error: { column: S se }
          errors_are: { value: se }
          method: { value: other }
        """;

    private static ReadResult ReadWide(string rows, string mapping)
    {
        string file = Path.Combine(Directory.CreateTempSubdirectory("results-").FullName, "means.csv");
        File.WriteAllText(file, WideHeader + rows);
        File.WriteAllText(SpreadsheetFiles.MappingPathOf(file), mapping);
        return ContributionReader.Read(file, IntakeLimits.Default);
    }

    [Fact]
    public void A_wide_table_may_have_a_row_of_means()
    {
        ReadResult result = ReadWide(WideRows, WideMapping);

        Assert.True(result.Findings.Count == 0, string.Join('\n', result.Findings));
        Assert.Empty(result.OtherWarnings());
        Assert.Empty(result.Contribution!.Bags);
        Assert.Equal((2, 2), (result.Contribution.Sites.Count, result.Contribution.Lots.Count));
        Assert.Equal(
            [
                new ResultRow(2, "bog-1", "bog-1", null, EvidenceKind.Summarised, 6, new DateOnly(2019, 5, 6), new DateOnly(2019, 8, 4),
                    null, null, null, "F-07", "S-03", null, 0.442, 0.021, 0.753, 0.026, null, null, null, null, null, ErrorKind.Se,
                    ResultMethod.Other, null, null, null),
                new ResultRow(3, "heath-1", "heath-1", null, EvidenceKind.Reported, 5, new DateOnly(2019, 5, 7), new DateOnly(2019, 8, 6),
                    null, null, null, null, null, null, null, null, null, null, null, 0.0113, 0.0021, 0.285, 0.03, ErrorKind.Se,
                    ResultMethod.Other, null, null, null),
            ],
            result.Contribution.Results);
    }

    [Theory]
    [InlineData("F-07;S-03;44", "F-09;S-03;44", "id-unknown", "fast lot")]
    [InlineData("6;06.05", "6,5;06.05", "not-a-number", "n")]
    public void A_cell_of_a_wide_row_of_means_is_told_by_its_own_column(string old, string @new, string code, string column)
    {
        Finding finding = Assert.Single(ReadWide(WideRows.Replace(old, @new, StringComparison.Ordinal), WideMapping).Findings);

        Assert.Equal((code, 2, column), (finding.Code, finding.Row, finding.Column));
    }

    [Theory]
    [InlineData("one_row_is: result", "one_row_is: bag", "one_row_is: bag without a section bags")]
    [InlineData("one_row_is: result", "one_row_is: bag", "a section results beside one_row_is: bag")]
    [InlineData("results:", "bags:\n  bag_id: { column: Site }\nresults:", "a section bags beside one_row_is: result")]
    [InlineData("  s_error: { column: S se }\n", "", "a column that means.mapping.yaml says nothing of")]
    public void Means_are_never_left_aside_in_silence(string old, string @new, string found)
    {
        string mapping = WideMapping.ReplaceLineEndings("\n");
        Assert.Contains(old, mapping, StringComparison.Ordinal);

        ReadResult result = ReadWide(WideRows, mapping.Replace(old, @new, StringComparison.Ordinal));
        Assert.Null(result.Contribution);
        Assert.Contains(found, result.Findings.Select(finding => finding.Found));
    }
}
