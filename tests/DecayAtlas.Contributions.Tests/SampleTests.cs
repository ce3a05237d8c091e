namespace DecayAtlas.Contributions.Tests;

/// <summary>Results of samples: what is impossible is a finding, what nobody can compare is told and keeps nothing out.</summary>
public class SampleTests
{
    private const string Header = "sample_id,bag_id,target_gene,accession,richness,shannon_index_nat,diversity_method,"
        + "gene_copies_per_g_dry,gene_copies_per_g_moist,gene_copies_method,fungi_to_bacteria_ratio,fungi_to_bacteria_method\n";

    [Theory]
    [InlineData("a,wood-1-1-S,ITS,,-1,,m,,,,,", "richness", "-1")]
    [InlineData("a,wood-1-1-S,ITS,,,-0.1,m,,,,,", "shannon_index_nat", "-0.1")]
    [InlineData("a,wood-1-1-S,ITS,,,21,m,,,,,", "shannon_index_nat", "21")]
    [InlineData("a,wood-1-1-S,ITS,,,,,-5,,m,,", "gene_copies_per_g_dry", "-5")]
    [InlineData("a,wood-1-1-S,ITS,,,,,,-5,m,,", "gene_copies_per_g_moist", "-5")]
    [InlineData("a,wood-1-1-S,ITS,,,,,,,,-0.5,m", "fungi_to_bacteria_ratio", "-0.5")]
    public void An_impossible_result_is_a_finding(string row, string column, string found)
    {
        using Example example = Given(row);
        Finding finding = example.OnlyFinding();

        Assert.Equal(("out-of-range", "samples.csv", 2, column, found),
            (finding.Code, finding.File, finding.Row, finding.Column, finding.Found));
    }

    [Theory]
    [InlineData("a,wood-1-1-S,ITS,X1,,,,,,,,")]
    [InlineData("a,wood-1-1-S,ITS,,,,,3.2e9,,qPCR,,")]
    [InlineData("a,wood-1-1-S,,,,,,,,,0.4,fatty acids")]
    [InlineData("a,wood-1-1-S,ITS,,0,0,reads,,,,,")]
    public void A_sample_needs_neither_an_accession_nor_a_result(string row)
    {
        using Example example = Given(row);
        ReadResult read = example.Read();

        Assert.Single(read.Contribution!.Samples);
        Assert.Empty(read.OtherWarnings());
    }

    [Theory]
    [InlineData("a,wood-1-1-S,ITS,,214,,,,,,,", "result-without-method", "diversity_method")]
    [InlineData("a,wood-1-1-S,ITS,,,3.6,,,,,,", "result-without-method", "diversity_method")]
    [InlineData("a,wood-1-1-S,ITS,,,,,3.2e9,,,,", "result-without-method", "gene_copies_method")]
    [InlineData("a,wood-1-1-S,ITS,,,,,,3.2e9,,,", "result-without-method", "gene_copies_method")]
    [InlineData("a,wood-1-1-S,ITS,,,,,,,,0.4,", "result-without-method", "fungi_to_bacteria_method")]
    [InlineData("a,wood-1-1-S,,,,,,3.2e9,,qPCR,,", "result-without-gene", "target_gene")]
    [InlineData("a,wood-1-1-S,,,214,,reads,,,,,", "result-without-gene", "target_gene")]
    // 100 equally frequent taxa: H = ln 100 = 4.605 nat, log2 100 = 6.644 bit
    [InlineData("a,wood-1-1-S,ITS,,100,6.64,reads,,,,,", "shannon-above-richness", "shannon_index_nat")]
    [InlineData("a,wood-1-1-S,ITS,,0,0.5,reads,,,,,", "shannon-above-richness", "shannon_index_nat")]
    public void A_result_that_nobody_can_compare_is_told_and_keeps_nothing_out(string row, string code, string column)
    {
        using Example example = Given(row);
        ReadResult read = example.Read();

        Assert.NotNull(read.Contribution);
        Finding warning = Assert.Single(read.OtherWarnings());
        Assert.Equal((code, "samples.csv", 2, column), (warning.Code, warning.File, warning.Row, warning.Column));
    }

    [Fact]
    public void A_Shannon_index_as_large_as_the_richness_allows_is_no_matter_to_tell()
    {
        using Example example = Given("a,wood-1-1-S,ITS,,100,4.61,reads,,,,,");

        Assert.Empty(example.Read().OtherWarnings());
    }

    [Fact]
    public void In_a_workbook_sheet_and_cell_are_named()
    {
        using Example example = new();
        string path = Path.Combine(example.Root, "a.xlsx");
        File.WriteAllBytes(path, XlsxMaker.Example().Set("samples", 4, "fungi_to_bacteria_ratio", -0.032).ToBytes());
        Finding finding = Assert.Single(ContributionReader.Read(path, IntakeLimits.Default).Findings);
        Assert.Equal("a.xlsx, sheet samples, cell M4, column fungi_to_bacteria_ratio: found -0.032, expected a number not below 0; "
            + "correct the number.", finding.ToString());

        File.WriteAllBytes(path, XlsxMaker.Example().Set("samples", 4, "gene_copies_method", null).ToBytes());
        Finding warning = Assert.Single(ContributionReader.Read(path, IntakeLimits.Default).OtherWarnings());
        Assert.Equal(("result-without-method", "a.xlsx", "samples", 4, "gene_copies_method"),
            (warning.Code, warning.File, warning.Sheet, warning.Row, warning.Column));
    }

    /// <summary>An index of 5 bit is 5 ln 2 = 3.4657 nat.</summary>
    [Fact]
    public void In_a_wide_table_a_row_has_a_sample_only_where_something_of_it_is_written()
    {
        using Example example = new();
        string torture = Path.Combine(AppContext.BaseDirectory, "torture", "wide"), table = Path.Combine(example.Root, "t.csv");
        string[] lines = File.ReadAllLines(Path.Combine(torture, "plain.csv"));
        File.WriteAllLines(table, lines.Select((line, i) => line + (i == 0 ? ",Shannon" : i == 2 ? ",5" : ",")));
        File.WriteAllText(Path.Combine(example.Root, "t.mapping.yaml"), File.ReadAllText(Path.Combine(torture, "plain.mapping.yaml")) + """
            samples:
              sample_id: { column: Bag }
              bag_id: { column: Bag }
              target_gene: { value: ITS }
              shannon_index_nat: { column: Shannon, unit: bit }
              diversity_method: { value: reads }
            """);
        ReadResult read = ContributionReader.Read(table, IntakeLimits.Default);

        Assert.Empty(read.Findings);
        SampleRow sample = Assert.Single(read.Contribution!.Samples);
        Assert.Equal("m1s", sample.BagId);
        Assert.Equal(3.4657359028, sample.ShannonIndexNat!.Value, 1e-9);
    }

    private static Example Given(string row)
    {
        Example example = new();
        File.WriteAllText(example.FileAt("samples.csv"), Header + row + "\n");
        return example;
    }
}
