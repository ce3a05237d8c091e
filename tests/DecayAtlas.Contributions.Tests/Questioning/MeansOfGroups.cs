using System.Text;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Tables of means: errors of several kinds, masses in place of shares, a row for each litter; each beside numbers worked out by
/// hand.</summary>
public class MeansOfGroups
{
    private static string Wide(string names, string values) => $"Site,Lat,Long,n,{names},Buried,Dug up\n"
        + $"Au,48.1,9.2,4,{values},2025-05-14,2025-08-12\nRied,48.2,9.3,9,{values},2025-05-14,2025-08-12\n";

    private static IReadOnlyList<ResultRow> Results(string table, params (string, string)[] answers)
    {
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", answers);
        Assert.Empty(read.Findings);
        return read.SoundRows!.Results;
    }

    // a standard error of 2 % is, of 4 bags, a standard deviation of 4 %, of 9 bags one of 6 %; 1 % are 2 and 3
    [Theory]
    [InlineData("SE")]
    [InlineData("s.e.")]
    [InlineData("SEM")]
    [InlineData("Standardfehler")]
    [InlineData("error estándar")]
    [InlineData("error típico")]
    [InlineData("erreur type")]
    [InlineData("erreur standard")]
    public void A_standard_error_becomes_a_standard_deviation_with_n(string name)
    {
        string table = Wide($"fast remaining (% of litter),{name},slow remaining (% of litter),{name}", "52,2,75,1");
        Assert.Contains("standard-error", AskedSheet.Told(AskedSheet.Ask(table)));
        Assert.DoesNotContain("columns-not-read", AskedSheet.Told(AskedSheet.Ask(table)));
        Assert.Equal([(4, 0.52, 0.04, 0.75, 0.02), (9, 0.52, 0.06, 0.75, 0.03)], Results(table).Select(row =>
            (row.Burials, row.FastRemainingMean!.Value, row.FastRemainingSd!.Value, row.SlowRemainingMean!.Value,
                row.SlowRemainingSd!.Value)));
    }

    [Theory]
    [InlineData("SD")]
    [InlineData("s.d.")]
    [InlineData("Standardabweichung")]
    [InlineData("desviación típica")]
    [InlineData("écart type")]
    public void A_standard_deviation_stays_one(string name) => Assert.Equal([0.02, 0.02],
        Results(Wide($"fast remaining (% of litter),{name},slow remaining (% of litter),{name}", "52,2,75,1"))
            .Select(row => row.FastRemainingSd!.Value));

    [Theory]
    [InlineData("±")]
    [InlineData("error")]
    [InlineData("Fehler")]
    public void An_error_that_does_not_say_which_is_asked_about(string name)
    {
        string table = Wide($"fast remaining (% of litter),fast {name},slow remaining (% of litter),slow {name}", "52,2,75,1");
        Assert.Equal(["spread"], AskedSheet.Ask(table).Ids());
        Assert.Equal([0.04, 0.06], Results(table, ("spread", "se")).Select(row => row.FastRemainingSd!.Value));
        Assert.Equal([0.02, 0.02], Results(table, ("spread", "sd")).Select(row => row.FastRemainingSd!.Value));
        // half of the interval of a mean of 4 is 3.182 standard errors, of 9 it is 2.306 (tables of Student's t)
        Assert.Equal([Math.Round(0.02 * 2 / 3.182, 4), Math.Round(0.02 * 3 / 2.306, 4)],
            Results(table, ("spread", "ci")).Select(row => Math.Round(row.FastRemainingSd!.Value, 4)));
    }

    private const string Masses = "Site,Lat,Long,Litter,n,Mean before (g),SD before,Mean after (g),SD after,Buried,Dug up\n"
        + "Au,48.1,9.2,fast,5,2.40,0.04,1.40,0.10,2025-05-14,2025-08-12\nAu,48.1,9.2,slow,4,2.60,0.00,2.05,0.11,2025-05-14,2025-08-12\n"
        + "Ried,48.2,9.3,fast,6,2.40,0.04,1.20,0.08,2025-05-15,2025-08-12\nRied,48.2,9.3,slow,6,2.60,0.00,1.94,0.22,2025-05-15,2025-08-12\n";

    /// <summary>Bags of 0.4 g are in the masses: of the fast litter 1.00 of 2.00 g, of the slow 1.65 of 2.20 g are left. By the rule for
    /// quotients (JCGM 100:2008, 5.1.6) 0.5 scatters by 0.5 √(0.02² + 0.1²) = 0.05099 and 0.75 by 0.75 · 0.11 / 1.65 = 0.05.</summary>
    [Fact]
    public void Mean_masses_of_each_litter_become_shares_of_both()
    {
        IReadOnlyList<ResultRow> results = Results(Masses);
        Assert.Equal(["Au", "Ried"], results.Select(row => row.SiteId));
        Assert.Equal([4, 6], results.Select(row => row.Burials));
        Assert.Equal([("F", "S"), ("F", "S")], results.Select(row => (row.FastLotId!, row.SlowLotId!)));
        Assert.Equal([(0.5, 0.05099, 0.75, 0.05), (0.4, 0.04079, 0.7, 0.1)], results.Select(row => (row.FastRemainingMean!.Value,
            Math.Round(row.FastRemainingSd!.Value, 5), row.SlowRemainingMean!.Value, Math.Round(row.SlowRemainingSd!.Value, 5))));
        Assert.Contains("means-of-masses", AskedSheet.Told(AskedSheet.Ask(Masses)));
    }

    [Fact]
    public void Masses_with_a_scatter_and_an_n_are_means_though_no_name_says_so()
    {
        IReadOnlyList<ResultRow> results = Results(Masses.Replace("Mean ", "", StringComparison.Ordinal));
        Assert.Equal([0.5, 0.4], results.Select(row => row.FastRemainingMean!.Value));
    }

    [Fact]
    public void Mean_masses_of_both_litters_in_a_row_are_read_too()
    {
        string table = "Site,Lat,Long,n,fast before (mg),SE fast before,fast after (mg),SE fast after,slow before (mg),slow after (mg),SE slow after,"
            + "Buried,Dug up\nAu,48.1,9.2,4,2400,20,1400,50,2600,2050,55,2025-05-14,2025-08-12\n"
            + "Ried,48.2,9.3,4,2400,20,1200,40,2600,1940,110,2025-05-15,2025-08-12\n";
        // standard errors of 20 and 50 mg of 4 bags are 40 and 100 mg, as above
        Assert.Equal([(0.5, 0.05099, 0.75, 0.05), (0.4, 0.04079, 0.7, 0.1)], Results(table).Select(row => (row.FastRemainingMean!.Value,
            Math.Round(row.FastRemainingSd!.Value, 5), row.SlowRemainingMean!.Value, Math.Round(row.SlowRemainingSd!.Value, 5))));
    }

    // of two places the one that was weighed on a broken balance is left out, and the other keeps its half and three quarters
    [Theory]
    [InlineData("balance broken")]
    [InlineData("falsch gewogen")]
    [InlineData("masse fausse")]
    public void A_remark_by_which_a_row_of_means_is_wrong_is_asked_about(string remark)
    {
        string table = Masses.Replace("Dug up\n", "Dug up,Remarks\n", StringComparison.Ordinal)
            .Replace("0.22,2025-05-15,2025-08-12", $"0.22,2025-05-15,2025-08-12,{remark}", StringComparison.Ordinal)
            .Replace("0.08,2025-05-15,2025-08-12", $"0.08,2025-05-15,2025-08-12,{remark}", StringComparison.Ordinal);
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal("remark-of-fault:wrong", question.Id);
        Assert.Equal([("Au", 0.5, 0.75)], Results(table, (question.Id, "leave-out")).Select(row => (row.SiteId,
            row.FastRemainingMean!.Value, row.SlowRemainingMean!.Value)));
        Assert.Equal(["Au", "Ried"], Results(table, (question.Id, "as-written")).Select(row => row.SiteId));
        Assert.Single(AskedSheet.Ask(table, (question.Id, "mend")).Findings);
    }

    [Fact]
    public void A_remark_by_which_k_and_S_are_wrong_is_asked_about()
    {
        const string Rates = "Place,Lat,Long,k per day,S,n,Buried,Dug up,Notes\nMire,48.1,9.2,0.02,0.3,5,2025-05-14,2025-08-12,\n"
            + "Heath,48.3,9.4,0.015,0.2,5,2025-05-14,2025-08-12,wrong litter\n";
        (string, string) method = ("method", "two-litter");
        Assert.Equal(["remark-of-fault:wrong"], AskedSheet.Ask(Rates, method).Ids());
        Assert.Equal([0.02], AskedSheet.Tables(Rates, method, ("remark-of-fault:wrong", "leave-out")).Results
            .Select(row => row.RatePerDay!.Value));
    }

    // of the litter that is left, 2 bags at one place and day cannot be told apart
    [Fact]
    public void Means_of_which_two_are_of_one_litter_and_place_are_told_as_that() => Assert.Single(AskedSheet.Ask(Masses
        .Replace("Ried,48.2,9.3", "Au,48.1,9.2", StringComparison.Ordinal).Replace("2025-05-15", "2025-05-14", StringComparison.Ordinal))
        .Findings);

    // 52 and 75 % are left at both places; errors of 2 and 1 % of 4 bags are deviations of 4 and 2 %
    [Fact]
    public void Shares_of_each_litter_in_rows_of_their_own_are_paired()
    {
        string table = "Site,Lat,Long,Litter,n,remaining (% of litter),±,Buried,Dug up\n" + string.Concat(new[] { "Au,48.1", "Ried,48.2" }
            .Select(site => $"{site},9.2,fast,4,52,2,2025-05-14,2025-08-12\n{site},9.2,slow,4,75,1,2025-05-14,2025-08-12\n"));
        Assert.Equal(["spread"], AskedSheet.Ask(table).Ids());
        Assert.Equal([(0.52, 0.04, 0.75, 0.02), (0.52, 0.04, 0.75, 0.02)], Results(table, ("spread", "se")).Select(row =>
            (row.FastRemainingMean!.Value, row.FastRemainingSd!.Value, row.SlowRemainingMean!.Value, row.SlowRemainingSd!.Value)));
    }

    [Fact]
    public void Errors_of_k_and_S_are_read_as_what_they_are_and_a_small_n_is_a_count()
    {
        const string Table = "Site,Latitude,Longitude,n,k (per day),SE k,S,SE S,Buried,Dug up\n"
            + "Au,48.1,9.2,6,0.0125,0.0011,0.31,0.02,2025-05-14,2025-08-12\nRied,48.2,9.3,5,0.0141,0.0013,0.28,0.03,2025-05-14,2025-08-12\n";
        Assert.Equal(["method"], AskedSheet.Ask(Table).Ids());
        Assert.Equal([(6, 0.0125, 0.0011, 0.31, 0.02, ErrorKind.Se), (5, 0.0141, 0.0013, 0.28, 0.03, ErrorKind.Se)],
            Results(Table, ("method", "two-litter")).Select(row => (row.Burials, row.RatePerDay!.Value, row.RateErrorPerDay!.Value,
                row.Stabilisation!.Value, row.StabilisationError!.Value, row.ErrorsAre!.Value)));
    }

    // a title says what the cells are, and each of how many
    [Theory]
    [InlineData("Table 3: mass remaining (% of litter); mean ± SD (n = number of bags)", "en")]
    [InlineData("Tableau 3 : masse restante (%); moyenne ± écart-type (n = nombre de sachets)", "fr")]
    public void A_mean_with_its_scatter_and_number_in_one_cell_is_read_as_the_three(string title, string language)
    {
        string names = language == "fr" ? "Station;Lat;Long;Litière rapide;Litière lente;Enfoui le;Déterré le"
            : "Site;Lat;Long;fast litter;slow litter;Buried;Dug up",
            table = $"{title.Replace(';', ',')}\n{names}\n"
            + "Au;48.1;9.2;38,3 ± 1,8 (n = 6);73,2 ± 1,4 (n = 5);2025-05-14;2025-08-12\n"
            + "Ried;48.2;9.3;40,9 ± 1,9 (n = 4);73,1 ± 1,3 (n = 5);2025-05-14;2025-08-12\n";
        (string, string)[] answers = [("share-kind", "remaining"), ("share-of", "litter")];
        Assert.Equal("remaining", AskedSheet.Of(table, language).Questions.Single(question => question.Id == "share-kind").Suggested);
        Assert.Equal([(5, 0.383, 0.018, 0.732, 0.014), (4, 0.409, 0.019, 0.731, 0.013)], Results(table, answers).Select(row =>
            (row.Burials, row.FastRemainingMean!.Value, row.FastRemainingSd!.Value, row.SlowRemainingMean!.Value,
                row.SlowRemainingSd!.Value)));
    }
}
