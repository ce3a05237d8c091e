namespace DecayAtlas.Decomposition.Tests.Variance;

public class RepeatabilityOfMeans
{
    [Fact]
    public void A_campaign_is_no_replicate_of_itself()
    {
        // by hand: site 0.937, campaign at site 0.059, burial 0.08, so that 20 burials of one campaign leave 0.08/20 = 0.004:
        // R = 0.937/(0.937 + 0.059 + 0.004) = 0.937; with the campaign's variance counted as the site's, as a model of sites and burials
        // alone does where each site has one campaign, it was 0.996
        Assert.Equal(0.937, Repeatability.OfSiteMean(0.937, 0.059, 0, 0.08, 20), 12);
        Assert.Equal(0.996, Repeatability.OfSiteMean(0.937 + 0.059, 0, 0, 0.08, 20), 12);
        // nor do a thousand burials help: 0.937/0.996
        Assert.Equal(0.937 / 0.996, Repeatability.OfSiteMean(0.937, 0.059, 0, 0.08, 1_000_000), 1e-6);
        // 4 campaigns of 5 burials, in 2 plots of variance 0.02: 0.937/(0.937 + 0.059/4 + 0.02/2 + 0.08/20)
        Assert.Equal(0.937 / 0.96575, Repeatability.OfSiteMean(0.937, 0.059, 0.02, 0.08, 20, plots: 2, campaigns: 4), 12);
        // Spearman-Brown where burials are all there is: 5 x 0.5/(1 + 4 x 0.5)
        Assert.Equal(2.5 / 3, Repeatability.OfSiteMean(1, 0, 0, 1, 5), 12);
    }

    [Fact]
    public void It_is_the_correlation_of_two_means_of_one_site()
    {
        // 20,000 invented sites, each dug in two campaigns of 3 burials in 1 plot of its own; the error of a correlation of 0.6 is 0.0045
        Random random = new(8);
        double Normal(double variance) => Math.Sqrt(variance)
            * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        List<double> first = [], second = [];
        for (int s = 0; s < 20_000; s++)
        {
            double site = Normal(1);
            double Mean() => site + Normal(0.3) + Normal(0.2) + Enumerable.Range(0, 3).Average(_ => Normal(0.5));
            first.Add(Mean());
            second.Add(Mean());
        }

        Assert.Equal(
            MathNet.Numerics.Statistics.Correlation.Pearson(first, second), Repeatability.OfSiteMean(1, 0.3, 0.2, 0.5, 3), 0.015);
    }
}
