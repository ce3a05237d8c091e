namespace DecayAtlas.Pages.Tests;

/// <summary>A class sheet counts as the page of its group does, compares places only where bags tell them apart, and speaks of no picture
/// that is not there.</summary>
public class WhatAClassIsTold
{
    // power.t.test(n = 3, sd = 0.25, power = 0.8)$delta of R 4.2.2 is 0.7677276, and grows as sd does: at the usual 0.3 it is 0.9213,
    // a ratio of 2.51
    [Fact]
    public void The_quickest_place_is_named_where_the_bags_tell_it_apart()
    {
        string sheet = Sheet("class", ("warmer-Ort", [0.0257, 0.026, 0.0263]), ("kalter-Ort", [0.0099, 0.01, 0.0101]));

        // ln 2 / k in days: 26.7 and 69.3
        Assert.Contains("The quickest place was warmer Ort (27 days), the slowest kalter Ort (69 days).", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("quickest",
            Sheet("class", ("warmer-Ort", [0.0237, 0.024, 0.0243]), ("kalter-Ort", [0.0099, 0.01, 0.0101])), StringComparison.Ordinal);
    }

    // n = 2 of the same: 1.413379 at 0.25, so a ratio of 4.11 there and 5.45 at 0.3; a weighing of 10 % makes 0.26926 of 0.25, or 4.58
    [Theory]
    [InlineData(4.2, 0.25, 0, true)]
    [InlineData(4.0, 0.25, 0, false)]
    [InlineData(4.2, 0.25, 0.1, false)]
    [InlineData(4.7, 0.25, 0.1, true)]
    [InlineData(5.3, null, 0, false)]
    [InlineData(5.6, null, 0, true)]
    [InlineData(60.0 / 58, 0.25, 0, false)]
    [InlineData(76.0 / 58, 0.25, 0, false)]
    public void Two_holes_that_agree_to_the_digit_are_not_taken_for_sure(double ratio, double? scatter, double weighed, bool areApart)
    {
        string sheet = Made("class/c-g.html", [("warmer-Ort", [0.01 * ratio, 0.01 * ratio]), ("kalter-Ort", [0.01, 0.01])], scatter, weighed);

        Assert.Equal(areApart, sheet.Contains("The quickest place was warmer Ort", StringComparison.Ordinal));
        Assert.Equal(!areApart, sheet.Contains("The bags do not tell these places apart", StringComparison.Ordinal));
    }

    // the largest of three differences is larger by chance than one alone: a ratio that two places show is not enough among three
    [Fact]
    public void Among_more_places_more_is_asked_of_the_quickest()
    {
        string sheet = Sheet("class", ("a", [0.026, 0.026, 0.026]), ("b", [0.01, 0.01, 0.01]), ("c", [0.015, 0.015, 0.015]));

        Assert.DoesNotContain("quickest", sheet, StringComparison.Ordinal);
    }

    [Fact]
    public void Cautions_stand_before_the_invitation_to_dig()
    {
        string sheet = Sheet("class", ("P-1", [0.01, 0.011]));
        int cautions = sheet.IndexOf("Before you dig", StringComparison.Ordinal);

        Assert.InRange(cautions, 0, sheet.IndexOf("bury bags", StringComparison.Ordinal));
    }

    [Fact]
    public void A_burial_without_k_is_called_that_and_not_accepted()
    {
        string page = Sheet("contributions", ("P-1", [0.01, double.NaN]));

        Assert.Contains("<span class=\"badge no-k\">no k</span>", page, StringComparison.Ordinal);
        // the verdict over the page, and the one burial
        Assert.Equal(2, page.Split("<span class=\"badge accepted\">").Length - 1);
    }

    [Theory]
    // scatter within a place as large as the difference between places
    [InlineData(new[] { 0.01, 0.03 }, new[] { 0.012, 0.02 })]
    // of one hole nobody sees how much chance does, however exact its weighing
    [InlineData(new[] { 0.03 }, new[] { 0.01 })]
    [InlineData(new[] { 0.03, 0.0301 }, new[] { 0.01 })]
    public void Places_that_the_bags_do_not_tell_apart_are_told_so(double[] warm, double[] cold)
    {
        string sheet = Sheet("class", ("warmer-Ort", warm), ("kalter-Ort", cold));

        Assert.Contains("The bags do not tell these places apart: kalter Ort, warmer Ort.", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("quickest", sheet, StringComparison.Ordinal);
    }

    [Fact]
    public void Page_list_and_sheet_count_the_burials_alike()
    {
        (string Place, double[] Rates)[] places = [("P-1", [0.01, 0.011, 0.012, 0.013, 0.014, double.NaN])];

        Assert.Contains("5 of our 6 burials count", Sheet("class", places), StringComparison.Ordinal);
        Assert.Contains("5 of its 6 burials count", Sheet("contributions", places), StringComparison.Ordinal);
        Assert.Contains("P-1", Sheet("contributions", places), StringComparison.Ordinal);
        Assert.Contains("5 of 6", Made("contributions/index.html", places), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_temperatures_a_sheet_speaks_of_no_axis_no_dots_and_no_diamonds()
    {
        string sheet = Sheet("class", ("P-1", [0.01, 0.011]));

        Assert.All(new[] { "axis", "Dots are", "diamonds", "on the line" },
            word => Assert.DoesNotContain(word, sheet, StringComparison.Ordinal));
        Assert.Contains("how many degrees lie between your two means", sheet, StringComparison.Ordinal);
    }

    private static string Sheet(string kind, params (string Place, double[] Rates)[] places) => Made($"{kind}/c-g.html", places);

    private static string Made(string file, (string Place, double[] Rates)[] places, double? scatter = null, double weighed = 0)
    {
        ReleaseData data = new("0123456789ab", places.Select(p => Examples.Site("g", p.Place)),
            places.SelectMany(p => p.Rates.Select((k, i) => Examples.Burial("g", p.Place, $"{p.Place}-{i}", double.IsNaN(k) ? null : k) with
            {
                RateUncertaintyBagPerDay = k * weighed,
            })),
            [], [], [Examples.Contribution("g")], []);
        PagesInputs inputs = Examples.Inputs(data) with
        {
            ScatterOfLnK = scatter is { } known ? new Dictionary<string, double> { ["2024-spring"] = known } : new Dictionary<string, double>(),
        };
        return SiteMaker.Make(inputs, Examples.Options(data)).Single(f => f.Path == file).Text;
    }
}
