namespace DecayAtlas.Kit.Tests;

/// <summary>Held against power.t.test of R 4.2.2: <c>power.t.test(n, sd = 0.25, power = 0.8)$delta</c>, and
/// <c>power.t.test(delta = 0.3 * log(2), sd = 0.25, power = 0.8)$n</c> = 23.69.</summary>
public class WhatBagsCanTell
{
    [Theory]
    [InlineData(4, 1.413379)]
    [InlineData(6, 0.7677276)]
    [InlineData(15, 0.4079298)]
    [InlineData(31, 0.2649452)]
    public void The_smallest_difference_is_that_of_a_t_test(int holes, double delta)
    {
        ToldApart told = ToldApart.Of(holes, new SchoolExperiment(LocalText.Of("a", "en"), LocalText.Of("b", "en"), 3, 0.25));

        Assert.Equal(delta, Math.Log(told.SmallestRatio!.Value), 1e-4);
        Assert.Equal(holes / 2, told.HolesEach);
        Assert.Equal(24, told.HolesNeeded);
        Assert.False(told.IsEnough);
        Assert.False(told.IsAssumed);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void One_hole_in_each_place_tells_nothing_and_the_sheet_says_so(int holes)
    {
        Phrases words = Language.Find("en")!;

        string said = Assert.Single(ToldApart.Of(holes, null).Sentences(null, words));

        Assert.Equal(words["kit.tell.never"], said);
    }

    [Fact]
    public void Where_the_difference_is_large_enough_it_can_be_expected_and_a_guess_is_called_a_guess()
    {
        SchoolExperiment experiment = new(LocalText.Of("a", "en"), LocalText.Of("b", "en"), 12, null);
        ToldApart told = ToldApart.Of(30, experiment);

        // 2^(12/10) = 2.297
        Assert.Equal(2.2974, told.ExpectedRatio!.Value, 1e-4);
        Assert.True(told.IsEnough);
        string said = string.Join(' ', told.Sentences(experiment, Language.Find("en")!));
        Assert.Contains("12 °C more make about 2.3 times as fast", said, StringComparison.Ordinal);
        Assert.Contains("a guess", said, StringComparison.Ordinal);
        Assert.Contains("30 %", said, StringComparison.Ordinal);
    }

    [Fact]
    public void The_experiment_sheet_says_what_its_own_bags_allow()
    {
        string page = ExampleKits.Page("experiment", ExampleKits.Of("quillmoor-upper-school"));

        Assert.Contains("With 7 holes in each place", page, StringComparison.Ordinal);
        // exp(0.4079) = 1.504, rounded up
        Assert.Contains("at least 1.6 times as fast", page, StringComparison.Ordinal);
        Assert.Contains("about 24 in each place", page, StringComparison.Ordinal);
    }
}
