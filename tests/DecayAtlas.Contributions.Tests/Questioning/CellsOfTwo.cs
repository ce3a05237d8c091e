using System.Text;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Cells that hold two things: a mean and how far it scatters, a first and a last day. Shares are worked out by hand from masses
/// with bags of 0.4 g: of the fast litter 1.00 of 2.00 g, of the slow 1.65 of 2.20 g are left.</summary>
public class CellsOfTwo
{
    private const string Days = "2025-05-14;2025-08-12";

    private static string Means(string names, string first, string last, string slowFirst, string slowLast, string more = "",
        string n = "") =>
        $"Site;Lat;Long;Fast before {names};Fast after {names};Slow before {names};Slow after {names}{more};Buried;Dug up\n"
        + $"Au;48.1;9.2;{first};{last};{slowFirst};{slowLast}{n};{Days}\nRied;48.2;9.3;{first};{last};{slowFirst};{slowLast}{n};{Days}\n";

    private static ResultRow First(string table, params (string, string)[] answers)
    {
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", answers);
        Assert.Empty(read.Findings);
        Assert.Empty(read.SoundRows!.Bags);
        return read.SoundRows.Results[0];
    }

    /// <summary>0.5 scatters by 0.5 √(0.02² + 0.1²) = 0.05099, 0.75 by 0.75 · 0.11 / 1.65 = 0.05 (JCGM 100:2008, 5.1.6, no
    /// correlation).</summary>
    [Theory]
    [InlineData("2.40 ± 0.04", "1.40 ± 0.10", "2.60 ± 0", "2.05 ± 0.11")]
    [InlineData("2,40±0,04 g", "1,40±0,10 g", "2,60±0 g", "2,05±0,11 g")]
    [InlineData("2.40 +/- 0.04", "1.40 +/- 0.10", "2.60 +/- 0.0", "2.05 +/- 0.11")]
    [InlineData("2400 ± 40 mg", "1400 ± 100 mg", "2600 ± 0 mg", "2050 ± 110 mg")]
    [InlineData("2.40 (0.04)", "1.40 (0.10)", "2.60 (0.00)", "2.05 (0.11)")]
    public void A_mean_with_its_scatter_is_read_as_both(string first, string last, string slowFirst, string slowLast)
    {
        string table = Means("(mean, SD)", first, last, slowFirst, slowLast, ";n", ";5");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        ResultRow row = First(table);
        Assert.Equal((5, 0.5, 0.05099, 0.75, 0.05), (row.Burials, row.FastRemainingMean!.Value,
            Math.Round(row.FastRemainingSd!.Value, 5), row.SlowRemainingMean!.Value, Math.Round(row.SlowRemainingSd!.Value, 5)));
    }

    // 2 % of 2.40 g are 0.048 g, of 1.40 g 0.028 g: 0.5 √(0.024² + 0.028²) = 0.01844
    [Fact]
    public void A_scatter_in_per_cent_of_a_mass_is_one_in_grams() => Assert.Equal(0.01844, Math.Round(
        First(Means("(g, mean ± SD)", "2.40 ± 2%", "1.40 ± 2 %", "2.60 ± 0%", "2.05 ± 1%", ";n", ";5")).FastRemainingSd!.Value, 5));

    // letters of a test of differences, and an n for each litter
    [Fact]
    public void Letters_behind_means_are_nothing_and_each_litter_has_its_own_n()
    {
        ResultRow row = First(Means("(g, mean ± SE)", "2.40 ± 0.02 a", "1.40 ± 0.05 ab", "2.60 ± 0 a", "2.05 ± 0.055 b",
            ";n fast;n slow", ";4;9"));
        // standard errors of 4 and of 9 bags, of which the fewer are burials
        Assert.Equal((4, 0.05099, 0.075),
            (row.Burials, Math.Round(row.FastRemainingSd!.Value, 5), Math.Round(row.SlowRemainingSd!.Value, 5)));
    }

    [Fact]
    public void An_interval_in_brackets_is_asked_about_and_may_say_nothing_of_the_scatter()
    {
        string table = Means("(g)", "2.40 (2.36–2.44)", "1.40 (1.30–1.50)", "2.60 (2.6–2.6)", "2.05 (1.94–2.16)", ";n", ";4");
        Assert.Equal(["spread"], AskedSheet.Ask(table).Ids());
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", ("spread", "none"));
        Assert.Equal((0.5, null), (read.SoundRows!.Results[0].FastRemainingMean, read.SoundRows.Results[0].FastRemainingSd));
        // a half width of 0.1 g of the mean of 4 is 0.1/3.182 · 2 g (tables of Student's t), of 0.04 g 0.04/3.182 · 2 g
        double first = 0.08 / 3.182 / 2, last = 0.2 / 3.182;
        Assert.Equal(Math.Round(0.5 * Math.Sqrt(first * first + last * last), 4),
            Math.Round(First(table, ("spread", "ci")).FastRemainingSd!.Value, 4));
    }

    [Fact]
    public void Means_of_two_treatments_at_one_place_stay_apart()
    {
        string table = "Site;Treatment;Lat;Long;n;fast loss (% of litter);slow loss (% of litter);Buried;Dug up\n"
            + $"Au;mown;48.1;9.2;4;50 ± 2;25 ± 1;{Days}\nAu;control;48.1;9.2;4;40 ± 2;20 ± 1;{Days}\n";
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", ("spread", "sd"));
        Assert.Equal([("mown", 0.5), ("control", 0.6)], read.SoundRows!.Results.Select(row => (row.Treatment!,
            row.FastRemainingMean!.Value)));
    }

    [Fact]
    public void What_no_name_says_of_a_scatter_is_asked_once_and_how_many_too()
    {
        string table = Means("", "2.40 ± 0.02", "1.40 ± 0.05", "2.60 ± 0", "2.05 ± 0.055");
        Assert.Equal(["burials", "spread"], AskedSheet.Ask(table).Ids().Order());
        ResultRow row = First(table, ("burials", "4"), ("spread", "se"));
        Assert.Equal((4, 0.05099, 0.05),
            (row.Burials, Math.Round(row.FastRemainingSd!.Value, 5), Math.Round(row.SlowRemainingSd!.Value, 5)));
    }

    // a hole a row and two bags: what stands behind ± is of the weighing
    [Fact]
    public void A_weighing_with_its_error_is_no_mean_where_each_row_is_a_bag()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.48 ± 0.01,1.30 ± 0.02", "2.60 ± 0.01,2.00 ± 0.02")
            + AskedSheet.Bags("2", "2.41 ± 0.01,1.31 ± 0.02", "2.61 ± 0.01,2.01 ± 0.02");
        Assert.Contains("plus-minus", AskedSheet.Ask(table).Ids());
        Inquiry inquiry = AskedSheet.Ask(table, ("plus-minus", "bag"));
        Assert.Empty(inquiry.Ids());
        Assert.Contains("plus-minus", AskedSheet.Told(inquiry));
        Assert.Equal([(2.48, 0.01, 1.30, 0.02), (2.60, 0.01, 2.00, 0.02), (2.41, 0.01, 1.31, 0.02), (2.61, 0.01, 2.01, 0.02)],
            AskedSheet.Read(table, ("plus-minus", "bag")).Select(bag => (bag.MassInitialGrams!.Value, bag.MassInitialSdGrams!.Value,
                bag.MassFinalGrams!.Value, bag.MassFinalSdGrams!.Value)));
        Assert.Contains("burials", AskedSheet.Ask(table, ("plus-minus", "mean")).Ids());
    }

    [Fact]
    public void A_column_of_ones_says_that_each_row_is_a_bag()
    {
        string table = AskedSheet.Head("n,Before (g),After (g)") + AskedSheet.Bags("1", "1,2.48 ± 0.01,1.30 ± 0.02",
            "1,2.60 ± 0.01,2.00 ± 0.02") + AskedSheet.Bags("2", "1,2.41 ± 0.01,1.31 ± 0.02", "1,2.61 ± 0.01,2.01 ± 0.02");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Equal([1.30, 2.00, 1.31, 2.01], AskedSheet.Read(table).Select(bag => bag.MassFinalGrams!.Value));
    }

    [Theory]
    [InlineData("(g, mean ± SE, n = 4)", "")]
    [InlineData("(g)", "Mean ± SE (n=4)")]
    public void How_many_and_what_the_scatter_is_may_stand_in_the_names_or_in_a_line(string names, string line)
    {
        string table = (line.Length > 0 ? line + "\n\n" : "") + Means(names, "2.40 ± 0.02", "1.40 ± 0.05", "2.60 ± 0", "2.05 ± 0.055");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        ResultRow row = First(table);
        Assert.Equal((4, 0.05099, 0.05),
            (row.Burials, Math.Round(row.FastRemainingSd!.Value, 5), Math.Round(row.SlowRemainingSd!.Value, 5)));
    }

    // 3.08 (0.60) may be a mass and its bag
    [Fact]
    public void A_number_in_brackets_that_no_name_explains_is_asked_about()
    {
        string table = Means("(g)", "2.40 (0.04)", "1.40 (0.10)", "2.60 (0.01)", "2.05 (0.11)", ";n", ";5");
        Assert.Contains("layout.brackets", AskedSheet.Ask(table).Ids());
        Assert.Contains(AskedSheet.Ask(table, ("layout.brackets", "keep")).Ids(),
            id => id.StartsWith("several:", StringComparison.Ordinal));
        Assert.Equal(0.5, First(table, ("layout.brackets", "spread"), ("spread", "sd")).FastRemainingMean);
    }

    private static string Bags(string days) => "Hole,Place,Lat,Long,Litter,Before (g),After (g),In the ground\n"
        + $"1,meadow,48.1,9.2,fast,2.40,1.40,{days}\n1,meadow,48.1,9.2,slow,2.60,2.05,{days}\n";

    [Theory]
    [InlineData("14.05.2025 – 12.08.2025", "dmy", 5, 14, 8, 12)]
    [InlineData("14.5. bis 12.8.2025", "dmy", 5, 14, 8, 12)]
    [InlineData("14 May to 12 Aug 2025", null, 5, 14, 8, 12)]
    [InlineData("du 14 mai au 12 août 2025", null, 5, 14, 8, 12)]
    [InlineData("del 14 de mayo al 12 de agosto de 2025", null, 5, 14, 8, 12)]
    [InlineData("14/05–12/08/2025", "dmy", 5, 14, 8, 12)]
    [InlineData("2025-05-14/2025-08-12", null, 5, 14, 8, 12)]
    [InlineData("2025-05-14 - 2025-08-12", null, 5, 14, 8, 12)]
    [InlineData("05/06/2025 - 08/09/2025", "mdy", 5, 6, 8, 9)]
    public void Two_days_in_a_cell_are_those_of_burial_and_of_digging_up(string days, string? order, int month, int day, int lastMonth,
        int lastDay)
    {
        (string, string)[] answers = order is null ? [] : [("date-order", order)];
        Assert.All(AskedSheet.Ask(Bags(days)).Ids(), id => Assert.Equal("date-order", id));
        Assert.All(AskedSheet.Read(Bags(days), answers), bag => Assert.Equal(
            (new DateOnly(2025, month, day), new DateOnly(2025, lastMonth, lastDay)), (bag.BuriedOn, bag.RetrievedOn!.Value)));
    }

    [Fact]
    public void A_year_behind_the_last_day_is_not_that_of_a_first_day_late_in_the_year_before()
    {
        string table = Bags("20 Nov – 12 Feb 2025");
        Assert.All(AskedSheet.Read(table), bag => Assert.Equal((new DateOnly(2024, 11, 20), new DateOnly(2025, 2, 12)),
            (bag.BuriedOn, bag.RetrievedOn!.Value)));
    }

    // a depth, a share, and the days of burial alone
    [Theory]
    [InlineData("Depth (cm)", "5-10")]
    [InlineData("Depth (cm)", "1.5-2.3")]
    [InlineData("pH", "5.5 - 6.1")]
    public void Other_ranges_stay_whole(string name, string cell)
    {
        string table = $"Hole,Place,Lat,Long,Litter,Before (g),After (g),{name},Buried,Dug up\n" + string.Concat(
            new[] { "fast,2.40,1.40", "slow,2.60,2.05" }.Select(bag => $"1,meadow,48.1,9.2,{bag},{cell},2025-05-14,2025-08-12\n"));
        Assert.DoesNotContain("layout-parted-days", AskedSheet.Told(AskedSheet.Ask(table)));
    }
}
