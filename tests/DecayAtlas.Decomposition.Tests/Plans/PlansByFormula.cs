namespace DecayAtlas.Decomposition.Tests.Plans;

public class PlansByFormula
{
    private static readonly PlanVariances Known = new("invented")
    {
        Site = new(0.04),
        Campaign = new(0.01),
        CampaignAtSite = new(0.01),
        TreatmentAtSite = new(0.005),
        Plot = new(0.005),
        Burial = new(0.02),
    };

    private static PlanVariances Sites(double site, double burial) => new("tables") { Site = new(site), Burial = new(burial) };

    private static PlannedDesign Between(int burials = 1) => new(PlannedComparison.Between, 0, 1, burials, 1);

    [Theory]
    // R stats::power.t.test: two groups of n independent values with standard deviation 1
    [InlineData(64, 0.5, 0.05, 0.801458623368)]
    [InlineData(10, 1.0, 0.05, 0.561984615034)]
    [InlineData(3, 2.0, 0.05, 0.462608128648)]
    [InlineData(20, 0.8, 0.01, 0.437972320049)]
    public void Power_is_that_of_R(int sites, double difference, double level, double power) =>
        // R leaves out the far tail (strict = FALSE), which is below 1e-4 here
        Assert.Equal(power, new PlannedPower(Between(), Sites(0.6, 0.4), level).Of(difference, sites), 1e-4);

    [Theory]
    // R 4, by hand: se and df of the balanced design, then 1 - pt(t, df, ncp) + pt(-t, df, ncp), ncp = difference/se
    [InlineData(PlannedComparison.Between, 12, 2, 3, 2, 0.26236426446749106, 0.790998)] // v = .04 + .01/2 + .005/2 + .02/12, df 22
    [InlineData(PlannedComparison.Within, 8, 2, 3, 1, 0.26236426446749106, 0.989691)] // v = 2 (.005 + .005/2 + .02/6), df 7
    public void Campaigns_plots_and_burials_each_divide_their_own_variance(
        PlannedComparison comparison, int sites, int plots, int burials, int campaigns, double difference, double power) =>
        Assert.Equal(power, new PlannedPower(new(comparison, 0, plots, burials, campaigns), Known).Of(difference, sites), 1e-5);

    [Fact]
    public void A_change_over_time_stands_on_campaigns_and_not_on_sites()
    {
        // R 4, by hand: 5 campaigns at 10 sites, v = .01 + (.02 + .04/2)/10, Σ(j - 3)² = 10, se = 4 √(v/10), df 3
        PlanVariances seasons = new("invented") { Site = new(0.3), Campaign = new(0.01), CampaignAtSite = new(0.02), Burial = new(0.04) };
        PlannedPower five = new(new(PlannedComparison.Again, 0, 1, 2, 5), seasons);
        Assert.Equal(0.615108, five.Of(0.5, 10), 1e-5);
        // with 10,000 sites the seasons are all that is left
        Assert.True(five.Of(0.5, 10_000) < 0.75);
        Assert.Null(five.FewestSites(0.5, 0.9, 10_000));
        // two campaigns of alike seasons are the paired t test: v = 2 (.02 + .04/2)/15, df 14
        PlannedPower two = new(new(PlannedComparison.Again, 0, 1, 2, 2), seasons with { Campaign = default });
        Assert.Equal(0.481154, two.Of(0.15, 15), 1e-5);
        Assert.Equal(0, new PlannedPower(new(PlannedComparison.Again, 0, 1, 2, 2), seasons).Of(0.5, 1000));
    }

    [Fact]
    public void Errors_of_lots_that_groups_do_not_share_count_as_known_variance()
    {
        // R 4, by hand: A = 2 (.04 + .02/3)/20 on 38 df, K = 2 0.1², df 38 ((A + K)/A)²
        PlanVariances variances = Sites(0.04, 0.02) with { LotError = 0.1 };
        Assert.Equal(0.732162, new PlannedPower(Between(3) with { HasOwnLots = true }, variances).Of(Math.Log(1.5), 20), 1e-5);
        // shared by both, they cancel
        Assert.Equal(new PlannedPower(Between(3), Sites(0.04, 0.02)).Of(0.2, 20), new PlannedPower(Between(3), variances).Of(0.2, 20), 12);
    }

    [Theory]
    // Cohen 1988, table 2.4.1: n a group for two-sided 0.05 and power 0.80: d 0.5 needs 64, d 0.8 needs 26; R power.t.test 63.77; d 1 at
    // power 0.9: 22.02 -> 23
    [InlineData(0.5, 0.8, 64)]
    [InlineData(0.8, 0.8, 26)]
    [InlineData(1.0, 0.9, 23)]
    public void Sites_needed_are_those_of_the_tables(double difference, double power, int sites) =>
        Assert.Equal(sites, new PlannedPower(Between(), Sites(1, 0)).FewestSites(difference, power, Planner.MostSites));

    [Fact]
    public void More_burials_spare_sites_but_never_replace_them()
    {
        int[] sites = [.. Enumerable.Range(1, 40)
            .Select(m => new PlannedPower(Between(m), Sites(0.5, 1)).FewestSites(0.5, 0.8, 10_000)!.Value)];
        Assert.True(sites.Zip(sites.Skip(1)).All(p => p.Second <= p.First));
        Assert.True(sites[^1] >= new PlannedPower(Between(), Sites(0.5, 0)).FewestSites(0.5, 0.8, 10_000));
        Assert.Null(new PlannedPower(Between(), Sites(1, 1)).FewestSites(1e-6, 0.8, 10_000));
    }

    [Fact]
    public void Burials_do_not_average_out_a_campaign()
    {
        // site 1, campaign at site 0.12: at best 2 (1.12)/g whatever the burials, where treating campaigns as burials would promise 2/g
        PlanVariances variances = new("invented") { Site = new(1), CampaignAtSite = new(0.12), Burial = new(0.5) };
        int needed = new PlannedPower(Between(1000), variances).FewestSites(0.7, 0.8, 10_000)!.Value;
        Assert.Equal(new PlannedPower(Between(), Sites(1.12, 0)).FewestSites(0.7, 0.8, 10_000), needed);
        // R power.t.test(delta = 0.7, sd = sqrt(1.12), power = 0.8): n = 36.87; with sd = 1, as if burials averaged it: 33.02
        Assert.Equal(37, needed);
        Assert.Equal(34, new PlannedPower(Between(1000), variances with { CampaignAtSite = default }).FewestSites(0.7, 0.8, 10_000));
    }

    [Fact]
    public void The_smallest_difference_is_seen_with_the_power_asked_for()
    {
        PlannedPower power = new(Between(3) with { Loss = 0.2 }, Known);
        Assert.Equal(0.8, power.Of(power.SmallestDifference(0.8, 15)!.Value, 15), 1e-3);
        // Cohen 1988: 26 a group see d = 0.8 at power 0.8 (R power.t.test: d = 0.79235)
        Assert.Equal(0.79235, new PlannedPower(Between(), Sites(1, 0)).SmallestDifference(0.8, 26)!.Value, 1e-4);
    }

    [Fact]
    public void An_uncertain_variance_is_log_normal_with_the_ends_of_its_interval()
    {
        // one site variance of interval 0.02 to 0.09 about 0.04, power by a mean over 20,000 draws of an own generator
        PlanVariances uncertain = Sites(0, 0.02) with { Site = new(0.04, 0.02, 0.09) };
        Random random = new(5);
        double mean = Enumerable.Range(0, 20_000).Average(_ =>
        {
            double z = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            double site = 0.04 * Math.Exp(z / 1.959964 * (z > 0 ? Math.Log(0.09 / 0.04) : Math.Log(0.04 / 0.02)));
            return new PlannedPower(Between(2), Sites(site, 0.02)).Of(0.2, 20);
        });
        double planned = new PlannedPower(Between(2), uncertain).Of(0.2, 20);
        Assert.Equal(mean, planned, 0.006);
        Assert.NotEqual(planned, new PlannedPower(Between(2), Sites(0.04, 0.02)).Of(0.2, 20), 0.01);
    }

    [Fact]
    public void The_mean_of_a_site_is_known_to_its_burials_and_over_seasons_to_its_campaigns()
    {
        // by hand: 1.959964 √(.005/2 + .02/6) = 0.149695; with (.01 + .01 + .05²)/1 + .1²: 1.959964 √.038333
        SitePrecision site = SitePrecision.Of(
            new(PlannedComparison.Between, 1, 2, 3, 1), Known with { LotError = 0.1, BatchError = 0.05 });
        Assert.Equal(0.149695, site.Scatter, 1e-6);
        Assert.Equal(0.383739, site.OverCampaigns, 1e-5);
    }

    [Fact]
    public void Bags_losses_and_costs_are_counted()
    {
        PlannedDesign design = new(PlannedComparison.Within, 10, 2, 3, 2) { Loss = 0.1, Dropout = 0.2 };
        // 10 sites x 2 treatments x 2 plots x 3 burials x 2 campaigns; 120 x 0.9 of the first campaign and 96 x 0.9 of the second are left
        Assert.Equal(240, design.BurialsInAll);
        Assert.Equal(480, design.Bags);
        Assert.Equal(240 - 0.9 * 216, design.ExpectedLost, 9);
        Assert.Equal(480 * 4 + 2 * (10 * 150 + 1000), new PlanCosts(4, 150, 1000).Of(design));
    }
}
