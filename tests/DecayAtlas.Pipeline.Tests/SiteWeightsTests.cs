namespace DecayAtlas.Pipeline.Tests;

public class SiteWeightsTests
{
    [Fact]
    public void Weights_follow_the_moment_estimates_worked_by_hand()
    {
        // three sites of two burials each: sd 0.1, 0.1, 0.1 -> σ² = 0.01; means 0, 1, 2 -> variance of means 1; τ² = 1 - 0.01/2 = 0.995
        SiteWeights weights = SiteWeights.Of([(0, 0.1, 2), (1, 0.1, 2), (2, 0.1, 2)]);

        Assert.Equal((0.995 + 0.01 / 1000) / (0.995 + 0.01), weights.Of(1), 12);
        Assert.Equal((0.995 + 0.01 / 1000) / (0.995 + 0.01 / 4), weights.Of(4), 12);
    }

    [Fact]
    public void Where_burials_scatter_much_more_than_sites_a_weight_goes_with_their_number()
    {
        SiteWeights weights = SiteWeights.Of([(0, 1, 2), (0.01, 1, 2), (0.02, 1, 2)]);   // τ² comes out negative and is 0
        Assert.Equal(4, weights.Of(8) / weights.Of(2), 9);
    }

    [Fact]
    public void Without_replicates_all_weigh_the_same() => Assert.Equal(1, SiteWeights.Of([(0, null, 1), (1, null, 1)]).Of(5));
}
