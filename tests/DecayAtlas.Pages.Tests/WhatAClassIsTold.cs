namespace DecayAtlas.Pages.Tests;

/// <summary>A class sheet counts as the page of its group does, compares places only where bags tell them apart, and speaks of no picture
/// that is not there.</summary>
public class WhatAClassIsTold
{
    // three holes each that agree within 2 %: t(0.975, 2) = 4.303 (Student's table) makes 2.5 % of it, and 0.02 is twice 0.01
    [Fact]
    public void The_quickest_place_is_named_where_the_bags_tell_it_apart()
    {
        string sheet = Sheet("class", ("warmer-Ort", [0.0198, 0.02, 0.0202]), ("kalter-Ort", [0.0099, 0.01, 0.0101]));

        // ln 2 / k in days: 34.7 and 69.3
        Assert.Contains("The quickest place was warmer Ort (35 days), the slowest kalter Ort (69 days).", sheet, StringComparison.Ordinal);
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

        Assert.Contains("5 of our 6 burials give a result that counts", Sheet("class", places), StringComparison.Ordinal);
        Assert.Contains("5 of its 6 burials give a result that counts", Sheet("contributions", places), StringComparison.Ordinal);
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

    private static string Made(string file, (string Place, double[] Rates)[] places)
    {
        ReleaseData data = new("0123456789ab", places.Select(p => Examples.Site("g", p.Place)),
            places.SelectMany(p => p.Rates.Select((k, i) => Examples.Burial("g", p.Place, $"{p.Place}-{i}", double.IsNaN(k) ? null : k))),
            [], [], [Examples.Contribution("g")], []);
        return SiteMaker.Make(Examples.Inputs(data), Examples.Options(data)).Single(f => f.Path == file).Text;
    }
}
