using System.Diagnostics;
using SpreadCheetah;
using SpreadCheetah.Styling;

namespace DecayAtlas.Contributions.Tests;

/// <summary>Workbooks that other programs wrote.</summary>
public class WorkbookTests
{
    [Fact]
    public void The_example_as_a_workbook_gives_the_same_records_as_the_data_package()
    {
        using Example example = new();
        string path = Path.Combine(example.Root, "example.xlsx");
        File.WriteAllBytes(path, XlsxMaker.Example().ToBytes());

        SameRecords(example, path);
    }

    /// <summary>SpreadCheetah 1.28.0, an independent writer; dates are real dates with its own date format.</summary>
    [Fact]
    public async Task A_workbook_of_an_independent_writer_gives_the_same_records()
    {
        using Example example = new();
        string path = Path.Combine(example.Root, "cheetah.xlsx");
        await using (FileStream stream = File.Create(path))
        await using (Spreadsheet book = await Spreadsheet.CreateNewAsync(stream, cancellationToken: TestContext.Current.CancellationToken))
        {
            StyleId date = book.AddStyle(new Style { Format = NumberFormat.Standard(StandardNumberFormat.ShortDate) });
            XlsxMaker maker = XlsxMaker.Example();
            foreach (string sheet in new[] { "package", "sites", "lots", "bags", "samples" })
            {
                await book.StartWorksheetAsync(sheet, token: TestContext.Current.CancellationToken);
                string?[] header = [.. maker.Rows(sheet)[0].Cast<string>()];
                foreach (object?[] row in maker.Rows(sheet))
                {
                    await book.AddRowAsync([.. row.Select((value, i) => value switch
                    {
                        string day
                            when header[i] is "buried_on" or "retrieved_on" && day.StartsWith('2') =>
                            new StyledCell(DateTime.Parse(day, System.Globalization.CultureInfo.InvariantCulture), date),
                        string text => new StyledCell(text, null),
                        double number => new StyledCell(number, null),
                        _ => new StyledCell((string?)null, null),
                    })], TestContext.Current.CancellationToken);
                }
            }
            await book.FinishAsync(TestContext.Current.CancellationToken);
        }

        SameRecords(example, path);
    }

    /// <summary>GDAL's XLSX driver (ogr2ogr), a general-purpose tool; columns get their types from the values, dates become
    /// dates.</summary>
    [Fact]
    public void A_workbook_that_GDAL_wrote_gives_the_same_records()
    {
        Assert.SkipUnless(Run("ogr2ogr", "--version") == 0, "ogr2ogr of GDAL is not installed");
        using Example example = new();
        string path = Path.Combine(example.Root, "gdal.xlsx"), package = Path.Combine(example.Root, "package.csv");
        File.WriteAllText(package, string.Join('\n', XlsxMaker.Example().Rows("package").Select(row => $"{row[0]},{row[1]}")) + "\n");
        int step = 0;
        foreach (string file in new[] { package, example.FileAt("sites.csv"), example.FileAt("lots.csv"), example.FileAt("bags.csv"),
            example.FileAt("samples.csv") })
        {
            string[] arguments = ["-f", "XLSX", .. step++ == 0 ? Array.Empty<string>() : ["-update"], path, file, "-oo",
                "AUTODETECT_TYPE=YES", "-nln", Path.GetFileNameWithoutExtension(file)];
            Assert.Equal(0, Run("ogr2ogr", arguments));
        }

        SameRecords(example, path);
    }

    /// <summary>
    /// Dates of both systems. The day numbers are those of Microsoft's support page "Date systems in Excel" (from memory): 2011-07-05 is
    /// 40729 in the 1900 system and 39267 in the 1904 system.
    /// </summary>
    [Theory]
    [InlineData("40729", false)]
    [InlineData("39267", true)]
    [InlineData("40729.75", false)]
    public void Day_numbers_are_the_published_ones(string serial, bool isDate1904) =>
        Assert.Equal("2011-07-05", SheetValue.DayOf(serial, isDate1904));

    [Theory]
    [InlineData("2024", false)]
    [InlineData("20240514", false)]
    [InlineData("-5", false)]
    [InlineData("1e300", true)]
    [InlineData("NaN", false)]
    public void A_number_that_is_more_likely_something_else_is_no_day(string serial, bool isDate1904) =>
        Assert.Null(SheetValue.DayOf(serial, isDate1904));

    /// <summary>ECMA-376 part 1: column XFD is the 16384th and last, row 1048576 the last.</summary>
    [Theory]
    [InlineData("A1", 0, 1)]
    [InlineData("Z9", 25, 9)]
    [InlineData("AA10", 26, 10)]
    [InlineData("XFD1048576", 16383, 1048576)]
    public void Cell_references_are_read_and_written(string text, int column, int row)
    {
        Assert.True(CellReference.TryParse(text, out int readColumn, out int readRow));
        Assert.Equal((column, row, text), (readColumn, readRow, CellReference.Of(column, row)));
    }

    [Theory]
    [InlineData("XFE1")]
    [InlineData("A1048577")]
    [InlineData("A0")]
    [InlineData("1")]
    [InlineData("AAAA1")]
    [InlineData("")]
    public void What_is_outside_any_sheet_is_no_cell_reference(string text) => Assert.False(CellReference.TryParse(text, out _, out _));

    [Fact]
    public void A_finding_in_a_workbook_says_sheet_and_cell()
    {
        using Example example = new();
        string path = Path.Combine(example.Root, "a.xlsx");
        File.WriteAllBytes(path, XlsxMaker.Example().Set("bags", 12 - 4, "mass_initial_g", "two").ToBytes());

        Assert.Equal(
            "a.xlsx, sheet bags, cell I8, column mass_initial_g: found 'two', expected a number from 0.001 to 10000 in g; write only "
            + "the number, without unit or remark; leave the cell empty when it is not known.",
            Assert.Single(ContributionReader.Read(path, IntakeLimits.Default).Findings).ToString());
    }

    private static void SameRecords(Example example, string workbook)
    {
        Contribution plain = example.Read().Contribution!;
        ReadResult result = ContributionReader.Read(workbook, IntakeLimits.Default);

        Assert.True(result.Findings.Count == 0, string.Join('\n', result.Findings));
        Assert.Equal(ContributionFormat.Workbook, result.Format);
        Contribution read = result.Contribution!;
        Assert.Equal(plain.Header with { ContentHash = "" }, read.Header with { ContentHash = "" });
        Assert.Equal(plain.Sites, read.Sites);
        Assert.Equal(plain.Lots, read.Lots);
        Assert.Equal(plain.Bags, read.Bags);
        Assert.Equal(plain.Samples, read.Samples);
    }

    private static int Run(string program, params string[] arguments)
    {
        try
        {
            using Process process =
                Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return -1;
        }
    }
}
