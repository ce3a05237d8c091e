namespace DecayAtlas.Pages.Tests;

/// <summary>A class sheet counts as the page of its group does, compares places only where bags tell them apart, and speaks of no picture
/// that is not there.</summary>
public class WhatAClassIsTold
{
    // Smyth 2004 by hand, the usual 0.3 as 4 degrees of freedom beside the 4 of three holes each: (4 * 0.09 + 4 * 0.0001) / 8 = 0.04505,
    // error sqrt(0.04505 * 2 / 3) = 0.1733, qt(0.975, 8) of R 4.2.2 is 2.306004: apart from a ratio of exp(0.3996) = 1.491 on
    [Fact]
    public void The_quickest_place_is_named_where_the_bags_tell_it_apart()
    {
        string sheet = Sheet("class", ("warmer-Ort", [0.0257, 0.026, 0.0263]), ("kalter-Ort", [0.0099, 0.01, 0.0101]));

        // ln 2 / k in days: 26.7 and 69.3
        Assert.Contains(
            "The quickest place was “warmer Ort” (27 days), the slowest “kalter Ort” (69 days).", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("quickest",
            Sheet("class", ("warmer-Ort", [0.0143, 0.0145, 0.0147]), ("kalter-Ort", [0.0099, 0.01, 0.0101])), StringComparison.Ordinal);
    }

    // two holes each without scatter of their own: sqrt(4 * 0.25^2 / 6) * qt(0.975, 6), which is 2.446912, is 0.4995, a ratio of 1.648;
    // at the usual 0.3 it is 1.821, and a weighing of 10 % makes sqrt(4 * (0.25^2 + 0.1^2) / 6) of it, or 1.713
    [Theory]
    [InlineData(1.66, 0.25, 0, true)]
    [InlineData(1.63, 0.25, 0, false)]
    [InlineData(1.66, 0.25, 0.1, false)]
    [InlineData(1.73, 0.25, 0.1, true)]
    [InlineData(1.81, null, 0, false)]
    [InlineData(1.84, null, 0, true)]
    [InlineData(60.0 / 58, 0.25, 0, false)]
    [InlineData(76.0 / 58, 0.25, 0, false)]
    public void Two_holes_that_agree_to_the_digit_are_not_taken_for_sure(double ratio, double? scatter, double weighed, bool areApart)
    {
        string sheet = Made("class/c-g.html", [("warmer-Ort", [0.01 * ratio, 0.01 * ratio]), ("kalter-Ort", [0.01, 0.01])], scatter, weighed);

        Assert.Equal(areApart, sheet.Contains("The quickest place was “warmer Ort”", StringComparison.Ordinal));
        Assert.Equal(!areApart, sheet.Contains("Between these places the bags show no sure difference", StringComparison.Ordinal));
    }

    // the largest of three differences is larger by chance than one alone: of the three pairs each has a level of 0.05 / 3, so that
    // sqrt(0.045 * 2 / 3) * qt(1 - 0.05 / 6, 8), which is 3.015763, asks for a ratio of 1.686 where two places ask for 1.491
    [Fact]
    public void Among_more_places_more_is_asked_of_the_quickest()
    {
        (string, double[]) quick = ("a", [0.016, 0.016, 0.016]), slow = ("b", [0.01, 0.01, 0.01]), between = ("c", [0.0125, 0.0125, 0.0125]);

        Assert.Contains("The quickest place was “a”", Sheet("class", quick, slow), StringComparison.Ordinal);
        Assert.DoesNotContain("quickest", Sheet("class", quick, slow, between), StringComparison.Ordinal);
    }

    // the burials of the example have S 0.25 each
    [Fact]
    public void A_class_is_told_what_S_is_and_how_much_of_it_its_soil_has()
    {
        string sheet = Sheet("class", ("P-1", [0.01, 0.011]));

        Assert.Matches("<i>S</i> is the share that turned into something that lasts longer, here about 25.%", sheet);
        Assert.Contains("<i>S</i> is the share that turns into something that lasts longer.",
            SiteMaker.Make(Examples.Inputs(Examples.WarmerIsFaster(3)), Examples.Options(Examples.WarmerIsFaster(3)))
                .Single(f => f.Path == "class/index.html").Text, StringComparison.Ordinal);
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

        Assert.Contains("Between these places the bags show no sure difference: kalter Ort, warmer Ort.", sheet, StringComparison.Ordinal);
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
