namespace DecayAtlas.Kit.Tests;

/// <summary>The share that is left, as a class reckons it on the sheet of the experiment: by the same water as the check.</summary>
public class WhatAClassReckons
{
    // after oven-drying, (2.00 - 0.64) / ((4.00 - 0.64) x 0.94) = 43 %; without the dry part it would be 40 %
    [Fact]
    public void Litter_that_was_weighed_as_it_came_is_reckoned_by_its_dry_part()
    {
        string sheet = Sheet("none", "oven", ("moisture_fraction", "0.06"), ("moisture_fraction", "0.07"));

        Assert.Contains("÷ ((before − empty bag) × dry part)", sheet, StringComparison.Ordinal);
        Assert.Contains("the dry part is 0.94 in A and 0.93 in B", sheet, StringComparison.Ordinal);
        Assert.Contains("it may lose its water alone, 6 % of its litter in A and 7 % in B", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("must not change", sheet, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("none", "oven")]
    [InlineData("air", "oven")]
    [InlineData("oven", "air")]
    [InlineData("none", "none")]
    public void Where_nobody_says_how_much_water_there_was_the_numbers_of_the_check_go_before(string before, string after)
    {
        string sheet = Sheet(before, after);

        Assert.Contains("÷ (before − empty bag)", sheet, StringComparison.Ordinal);
        Assert.Contains("Those that the check reckons with go before", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("must not change", sheet, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("oven", "oven")]
    [InlineData("oven", "freeze")]
    [InlineData("air", "air")]
    public void Litter_that_was_dried_alike_both_times_needs_no_dry_part(string before, string after)
    {
        string sheet = Sheet(before, after, ("moisture_fraction", "0.06"), ("moisture_fraction", "0.07"));

        Assert.Contains("÷ (before − empty bag)", sheet, StringComparison.Ordinal);
        Assert.Contains("its weight must not change", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("dry part", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("go before", sheet, StringComparison.Ordinal);
    }

    private static string Sheet(
        string before, string after, (string Field, string Value)? fast = null, (string Field, string Value)? slow = null)
    {
        Campaign example = ExampleKits.Campaign;
        Campaign campaign = example with
        {
            Bags = new Dictionary<string, string>(example.Bags) { ["drying_initial"] = before, ["drying"] = after },
            Lots = [.. example.Lots.Select(lot => With(lot, lot["role"] == "fast" ? fast : slow))],
        };
        return ExampleKits.Page("experiment", GroupKit.Of(campaign, "f", PaperSize.A4, "moss-watchers", null).Single());
    }

    private static IReadOnlyDictionary<string, string> With(IReadOnlyDictionary<string, string> lot, (string Field, string Value)? more) =>
        more is { } added ? new Dictionary<string, string>(lot) { [added.Field] = added.Value } : lot;
}
