namespace DecayAtlas.Questions.Tests.Plans;

public class PlansInWords
{
    private static readonly PlanVariances Stated = new("as stated")
    {
        Site = new(0.04),
        CampaignAtSite = new(0.01),
        Burial = new(0.02),
        LotError = 0.08,
    };

    private static PlanRequest Request(PlannedComparison? comparison, double? effect, AskedOf of = AskedOf.Rate) =>
        new(of, comparison, effect) { Simulations = 0, Burials = [1, 3] };

    private static string Said(PlanAnswer answer) => string.Join(" ", answer.Sentences);

    [Fact]
    public void A_plan_names_the_cheapest_design_and_what_may_not_be_promised()
    {
        PlanAnswer plan = PlanQuestion.Ask(Request(PlannedComparison.Between, 1.2), Stated);
        // R power.t.test(delta = log(1.2), sd = sqrt(.07), power = .8): n = 34.06; sd = sqrt(.05 + .02/3): 27.75
        Assert.Equal([35, 28], plan.Designs.Select(d => d.SitesPerGroup));
        Assert.Equal(140, plan.Best!.Bags);
        Assert.Contains("35 sites in each group, 1 plot at each, 1 burial in each plot, 1 campaign", Said(plan));
        Assert.Contains("lot share (chemistry, tare) is taken as shared by the groups and cancels", Said(plan));
        Assert.Contains("No losses are counted", Said(plan));
        // dear sites turn it round: 70 x 150 + 140 x 4 = 11060 against 56 x 150 + 336 x 4 = 9744
        PlanAnswer dear = PlanQuestion.Ask(
            Request(PlannedComparison.Between, 1.2) with { Costs = new PlanCosts(4, 150, 0), Loss = 1e-9 }, Stated);
        Assert.Equal(9744, dear.Best!.Cost);
        Assert.DoesNotContain("No losses are counted", Said(dear));
        PlanAnswer own = PlanQuestion.Ask(Request(PlannedComparison.Between, 1.2) with { HasOwnLots = true }, Stated);
        Assert.True(own.Best is null || own.Best.SitesPerGroup > 35);
    }

    [Fact]
    public void A_ratio_below_one_is_told_as_one()
    {
        PlanRow best = PlanQuestion.Ask(Request(PlannedComparison.Between, 1 / 1.2), Stated).Best!;
        Assert.InRange(best.SmallestEffect!.Value, 1 / 1.2, 0.85);
    }

    [Fact]
    public void A_difference_of_S_is_planned_on_its_own_scale()
    {
        PlanVariances ofS = new("as stated") { Site = new(0.002), Burial = new(0.001) };
        PlanAnswer plan = PlanQuestion.Ask(Request(PlannedComparison.Between, -0.03, AskedOf.Stabilisation), ofS);
        // R power.t.test(delta = .03, sd = sqrt(.003), power = .8): n = 53.30
        Assert.Equal(54, plan.Designs[0].SitesPerGroup);
        Assert.InRange(plan.Designs[0].SmallestEffect!.Value, -0.03, -0.0295);
        Assert.Contains("a difference of S of -0.030", Said(plan));
        Assert.Equal("s", plan.Of);
    }

    [Fact]
    public void What_can_not_be_planned_is_said()
    {
        PlanRequest again = Request(PlannedComparison.Again, 0.7) with { Campaigns = [2] };
        Assert.Contains("can't be told from the difference of two seasons",
            PlanQuestion.Ask(again, Stated with { Campaign = new(0.01) }).Statement);
        Assert.Contains("needs 2 campaigns", PlanQuestion.Ask(again with { Campaigns = [1] }, Stated).Statement);
        Assert.Contains("only more campaigns do",
            PlanQuestion.Ask(again with { Campaigns = [3] }, Stated with { Campaign = new(0.1) }).Statement);
        Assert.Contains("let both groups share them",
            PlanQuestion.Ask(Request(PlannedComparison.Between, 1.1) with { HasOwnLots = true }, Stated).Statement);
        Assert.Contains("state treatment-at-site", Said(PlanQuestion.Ask(Request(PlannedComparison.Within, 1.2), Stated)));
    }

    [Fact]
    public void The_mean_of_a_site_has_no_power_but_a_width()
    {
        PlanAnswer mean = PlanQuestion.Ask(Request(null, null), Stated);
        // by hand: 100 (exp(1.959964 √.02) - 1) and, over seasons and lots, 100 (exp(1.959964 √(.02 + .01 + .0064)) - 1)
        Assert.Equal(31.940, mean.Designs[0].SiteHalfWidth, 1e-2);
        Assert.Equal(45.345, mean.Designs[0].SiteHalfWidthOverSeasons, 1e-2);
        Assert.All(mean.Designs, d => Assert.True(d is { Power: null, SitesInAll: 1 }));
        Assert.Contains("More burials do not shrink what a campaign", Said(mean));
    }

    [Fact]
    public void A_plan_is_drawn()
    {
        PlanRequest request = Request(PlannedComparison.Between, 1.2) with { Simulations = 50 };
        PlanAnswer plan = PlanQuestion.Ask(request, Stated);
        string svg = PlanCharts.Of(request, plan)!.Draw().Svg();
        Assert.Contains("3 burials a plot", svg);
        Assert.Contains("sites in each group", svg);
        Assert.NotNull(PlanCharts.Of(Request(null, null), PlanQuestion.Ask(Request(null, null), Stated)));
        Assert.Null(PlanCharts.Of(request, plan with { Designs = [] }));
    }
}
