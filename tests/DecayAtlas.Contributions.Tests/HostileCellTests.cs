using System.Diagnostics;

namespace DecayAtlas.Contributions.Tests;

/// <summary>One text of any length, wherever it stands, costs no more than reading past it.</summary>
public class HostileCellTests
{
    [Theory]
    [InlineData(100_000)]
    [InlineData(400_000)]
    public void A_hundred_contributions_with_one_enormous_text_each_are_all_refused_within_a_minute(int letters)
    {
        string folder = Directory.CreateTempSubdirectory("hostile-").FullName;
        try
        {
            IReadOnlyList<string> paths = HostileCells.Write(folder, Example.Folder, letters);
            Assert.True(paths.Count >= 100);
            List<(double Seconds, string Path)> slowest = [];
            Stopwatch all = Stopwatch.StartNew();
            foreach (string path in paths)
            {
                double before = all.Elapsed.TotalSeconds;
                ReadResult result = ContributionReader.Read(path, IntakeLimits.Default);
                slowest.Add((all.Elapsed.TotalSeconds - before, Path.GetFileName(path)));
                // a description may be long, and what the schema does not know is nobody's business; all else is told, and shortly
                if (result.Contribution is null)
                    Assert.NotEmpty(result.Findings);
                Assert.All(result.Findings, finding => Assert.InRange(finding.ToString().Length, 1, 10_000));
                Assert.DoesNotContain(result.Findings, finding => finding.Code == FindingCode.TooCostly);
            }
            string worst =
                string.Join(", ", slowest.OrderDescending().Take(5)
                    .Select(one => FormattableString.Invariant($"{one.Path} {one.Seconds:F2} s")));
            TestContext.Current.TestOutputHelper?.WriteLine(
                FormattableString.Invariant($"{paths.Count} in {all.Elapsed.TotalSeconds:F1} s; slowest {worst}"));
            Assert.True(all.Elapsed < TimeSpan.FromMinutes(1),
                FormattableString.Invariant($"{all.Elapsed.TotalSeconds:F0} s; slowest {worst}"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void The_same_seed_makes_the_same_hostile_contributions()
    {
        string folder = Directory.CreateTempSubdirectory("hostile-").FullName;
        try
        {
            IReadOnlyList<string> one = HostileCells.Write(Path.Combine(folder, "one"), Example.Folder, 500),
                two = HostileCells.Write(Path.Combine(folder, "two"), Example.Folder, 500);
            Assert.Equal(one.Select(Hash), two.Select(Hash));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }

        static string Hash(string path) => ContributionReader.Read(path, IntakeLimits.Default).ContentHash;
    }

    [Theory]
    [InlineData("notes", 2000)]
    [InlineData("mass_initial_g", FieldSchema.LongestOfAll)]
    [InlineData("buried_on", FieldSchema.LongestOfAll)]
    [InlineData("condition", FieldSchema.LongestOfAll)]
    [InlineData("unused_material", FieldSchema.LongestOfAll)]
    [InlineData("lot_id", 64)]
    public void A_cell_that_is_too_long_is_told_as_that_and_as_nothing_else(string column, int longest)
    {
        using Example example = new();
        string[] lines = File.ReadAllLines(example.FileAt("bags.csv"));
        string[] cells = lines[1].Split(',');
        cells[Array.IndexOf(lines[0].Split(','), column)] = "jane@example.org" + new string('a', longest);
        lines[1] = string.Join(',', cells);
        File.WriteAllLines(example.FileAt("bags.csv"), lines);

        Finding finding = example.OnlyFinding();
        Assert.Equal(FindingCode.TooLong, finding.Code);
        Assert.Equal(FormattableString.Invariant($"{longest + 16} characters"), finding.Found);
        Assert.Equal(FormattableString.Invariant($"at most {longest} characters"), finding.Expected);
    }

    [Fact]
    public void No_column_of_the_schema_allows_more_than_the_general_bound() =>
        Assert.All(
            SchemaCatalogue.Tables.SelectMany(table => table.Fields), field => Assert.InRange(field.Longest, 1, FieldSchema.LongestOfAll));

    [Fact]
    public void A_pattern_that_multiplies_a_long_cell_is_told_without_being_written_out()
    {
        int asked = 0;
        (string text, long length) = RowPattern.Fill(string.Concat(Enumerable.Repeat("{Site}", 80)), FieldSchema.LongestOfAll, _ =>
        {
            asked++;
            return new string('s', 100_000).AsMemory();
        });
        Assert.Equal(("", 8_000_000L, 80), (text, length, asked));
        Assert.Contains("500", RowPattern.WhyBroken(string.Concat(Enumerable.Repeat("{Site}", 20_000))), StringComparison.Ordinal);
    }

    [Fact]
    public void A_word_of_a_mapping_that_stands_twice_but_for_spaces_is_told()
    {
        string folder = Directory.CreateTempSubdirectory("hostile-").FullName;
        try
        {
            string path = HostileCells.Write(folder, Example.Folder, 100).Single(path => File.Exists(SpreadsheetFiles.MappingPathOf(path))
                && File.ReadAllText(SpreadsheetFiles.MappingPathOf(path)).Contains("{ f: fast, \" f\": slow }", StringComparison.Ordinal));
            Finding finding = Assert.Single(ContributionReader.Read(path, IntakeLimits.Default).Findings);
            Assert.Equal((FindingCode.MappingBroken, "the word 'f' twice, spaces aside"), (finding.Code, finding.Found));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData(60)]
    [InlineData(120)]
    [InlineData(2000)]
    public void No_half_of_an_address_is_left_wherever_the_text_is_cut(int longest)
    {
        const string address = "somebody.with.a.long.name@some.institute.of.soils.example.org", phone = "+49 6221 123456789";
        foreach (string hidden in new[] { address, phone })
        {
            for (int before = 0; before < longest + 500; before += 7)
            {
                string shown = ReceivedText.Masked(new string('.', before) + " " + hidden + " " + new string('.', 400), longest);
                Assert.InRange(shown.Length, 0, longest + 1);
                Assert.DoesNotContain("somebody", shown, StringComparison.Ordinal);
                Assert.DoesNotContain("6221", shown, StringComparison.Ordinal);
            }
            // many long addresses: masking draws the cut end of the text far to the front
            string many = ReceivedText.Masked(string.Concat(Enumerable.Repeat(new string('x', 60) + hidden + " ", 100)), longest);
            Assert.DoesNotContain("somebody", many, StringComparison.Ordinal);
            Assert.DoesNotContain("6221", many.Replace("+49 6221 1", "", StringComparison.Ordinal), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("call 0049 6221 123456", "call (a telephone number)")]
    [InlineData("call(0049 6221 123456)", "call((a telephone number))")]
    [InlineData("0049 6221 123456", "(a telephone number)")]
    [InlineData("+0049 6221 123456", "(a telephone number)")]
    [InlineData("0.0012345678901", "0.0012345678901")]
    [InlineData("a0049 6221 123456", "a0049 6221 123456")]
    [InlineData("1.200100200300", "1.200100200300")]
    public void A_telephone_number_is_told_from_the_zeros_of_a_number_by_what_stands_before_it(string text, string shown) =>
        Assert.Equal(shown, ReceivedText.Masked(text));

    [Fact]
    public void Names_are_compared_only_for_as_many_findings_as_are_listed()
    {
        using Example example = new();
        string known =
            string.Concat(Enumerable.Range(0, 5000)
                .Select(i =>
                    FormattableString.Invariant($"{new string('s', 58)}{i:0000},47,11,15,no,ZZ,grassland,meadow,organic,,212,,\n")));
        File.AppendAllText(example.FileAt("sites.csv"), known);
        string bags = string.Concat(Enumerable.Range(0, 100_000).Select(i => FormattableString.Invariant(
            $"b-{i},u-{i},{new string('s',
                56)}x{i % 1000:000},A,1,F-07,fast,,2.06,0.97,gross,,,,oven,70,,,0.09,2024-05-14,2024-08-12,8,intact,yes,,0.01,,,\n")));
        File.AppendAllText(example.FileAt("bags.csv"), bags);

        Stopwatch watch = Stopwatch.StartNew();
        IReadOnlyList<Finding> findings = example.Read().Findings;
        Assert.Equal(FindingList.ShownPerKind + 1, findings.Count);
        Assert.All(findings.SkipLast(1), finding => Assert.Contains("is close", finding.Mend, StringComparison.Ordinal));
        Assert.True(watch.Elapsed < TimeSpan.FromMinutes(1), "a thousand comparisons for each of a hundred thousand rows take minutes");
    }
}
