namespace DecayAtlas.Contributions.Tests;

/// <summary>Means that stand for burials: the table results, with and without weighings beside it.</summary>
public class ResultTests
{
    [Fact]
    public void A_contribution_of_results_needs_no_bags()
    {
        ReadResult result = ContributionReader.Read(Example.OfResults, IntakeLimits.Default);

        Assert.Empty(result.Findings);
        Assert.Empty(result.Warnings);
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
        CheckReport report = new("example-results", ContributionReader.Read(Example.OfResults, IntakeLimits.Default));

        Assert.Contains(("results that stand for burials", "2, for 11 burials"), report.SummaryLines());
        Assert.Contains(("last retrieval", "2019-08-06"), report.SummaryLines());
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
    [InlineData("two-litter", "tea", "value-not-allowed", "method", "'tea'")]
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
    [InlineData(",0.753,0.026,", ",,,", "slow_remaining_mean", "a summarised row 'bog-1-2019' without slow_remaining_mean, slow_remaining_sd")]
    [InlineData("F-07,S-03,dry,0.442", ",,dry,0.442", "fast_lot_id", "a summarised row 'bog-1-2019' without fast_lot_id, slow_lot_id")]
    [InlineData(",sd,two-litter", ",,", "errors_are", "a reported row 'heath-1-2019' without errors_are, method")]
    public void A_row_that_will_not_be_compared_is_told_and_not_refused(string old, string @new, string column, string found)
    {
        using Example example = new Example(from: Example.OfResults).Replace("results.csv", old, @new);

        ReadResult result = example.Read();
        Assert.NotNull(result.Contribution);
        Finding warning = Assert.Single(result.Warnings);
        Assert.Equal(("result-incomplete", "results.csv", column, found), (warning.Code, warning.File, warning.Column, warning.Found));
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
        Assert.Equal("results", Assert.Single(result.Warnings).Sheet);
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
}
