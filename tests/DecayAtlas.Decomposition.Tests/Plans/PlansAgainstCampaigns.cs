using System.Globalization;

namespace DecayAtlas.Decomposition.Tests.Plans;

/// <summary>Planned power held against campaigns of an own generator, made and analysed burial by burial.</summary>
public class PlansAgainstCampaigns
{
    private static readonly PlanVariances Truth = new("invented")
    {
        Site = new(0.04),
        CampaignAtSite = new(0.01),
        TreatmentAtSite = new(0.005),
        Plot = new(0.006),
        Burial = new(0.03),
        Campaign = new(0.004),
    };

    private static int Campaigns =>
        int.Parse(Environment.GetEnvironmentVariable("DECAYATLAS_CAMPAIGNS") ?? "60", CultureInfo.InvariantCulture);

    private static readonly (PlannedDesign Design, double Difference)[] Planned =
    [
        (new(PlannedComparison.Between, 10, 1, 3, 1), 0.3),
        (new(PlannedComparison.Between, 10, 1, 3, 1) { Loss = 0.3 }, 0.3),
        (new(PlannedComparison.Between, 9, 2, 2, 2) { Loss = 0.2, Dropout = 0.2 }, 0.3),
        (new(PlannedComparison.Within, 8, 1, 3, 1), 0.25),
        (new(PlannedComparison.Within, 9, 1, 3, 1) { Loss = 0.3 }, 0.25),
        (new(PlannedComparison.Again, 8, 1, 2, 5), 0.3),
        (new(PlannedComparison.Again, 9, 1, 2, 5) { Loss = 0.2, Dropout = 0.1 }, 0.3),
    ];

    [Fact]
    public void Power_is_as_planned()
    {
        (double Found, double Planned)[] powers = [.. Planned.Select(p => PowerOf(p.Design, p.Difference))];
        // 2 points as the number of campaigns grows, and three standard errors of that number in both
        Assert.All(powers, p => Assert.Equal(p.Found, p.Planned, Slack(p.Found, Campaigns)));
        // of all designs together, which tells a plan that promises too much from a few campaigns of each
        (double found, double planned) = (powers.Average(p => p.Found), powers.Average(p => p.Planned));
        Assert.Equal(found, planned, Slack(found, Campaigns * Planned.Length));

        static double Slack(double power, int campaigns) => 0.02 + 3 * Math.Sqrt(2 * power * (1 - power) / campaigns);
    }

    private static (double Found, double Planned) PowerOf(PlannedDesign design, double difference)
    {
        int seen = 0;
        Parallel.For(0, Campaigns, i =>
        {
            if (OneCampaign(design, difference, new Random(1000 + i)) < 0.05)
                Interlocked.Increment(ref seen);
        });
        double found = seen / (double)Campaigns;
        double formula = new PlannedPower(design, Truth).Of(difference, design.SitesPerGroup);
        SimulatedPower planned = SimulatedPower.Of(design, Truth, difference, Math.Min(Campaigns, 4000), 1);
        TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture,
            $"{design.Comparison} loss {design.Loss}: found {found:0.000}, planned {planned.Power:0.000}, by formula {formula:0.000}"));
        // of thousands, one may have no answer
        Assert.InRange(planned.Unanswered, 0, Campaigns / 1000);
        return (found, planned.Power);
    }

    [Theory]
    [InlineData(PlannedComparison.Between)]
    [InlineData(PlannedComparison.Within)]
    public void Where_nothing_is_lost_the_means_of_sites_say_what_the_mixed_model_says(PlannedComparison comparison)
    {
        // a dropout that never happens takes the same random numbers through the mixed model; the two part only where it finds a variance
        // of zero
        PlannedDesign design = new(comparison, 10, 1, 4, 1);
        int means = SimulatedPower.Of(design, Truth, 0.25, 60, 3).Seen;
        int model = SimulatedPower.Of(design with { Dropout = 1e-12 }, Truth, 0.25, 60, 3).Seen;
        Assert.InRange(means - model, -2, 2);
    }

    [Theory]
    [InlineData(PlannedComparison.Between, 1, 0.0, 4000)]
    [InlineData(PlannedComparison.Within, 1, 0.25, 200)]
    [InlineData(PlannedComparison.Again, 5, 0.1, 150)]
    public void Where_nothing_differs_a_difference_is_seen_in_five_per_cent(
        PlannedComparison comparison, int campaigns, double loss, int simulated)
    {
        simulated = Math.Max(simulated, Campaigns);
        SimulatedPower none = SimulatedPower.Of(
            new(comparison, 8, 1, 2, campaigns) { Loss = loss, HasOwnLots = true }, Truth with { LotError = 0.08 }, 0, simulated, 11);
        TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture,
            $"{comparison}: {none.Power:0.0000} where nothing differs"));
        double slack = 3 * Math.Sqrt(0.05 * 0.95 / simulated);
        Assert.InRange(none.Power, 0.05 - slack, 0.05 + slack + 0.003);
    }

    [Fact]
    public void The_planner_finds_the_cheapest_design_and_stands_by_its_seed()
    {
        PlannedDesign[] designs = [.. Enumerable.Range(1, 4).Select(m => new PlannedDesign(PlannedComparison.Between, 0, 1, m, 1))];
        PlanGoal goal = new(0.3, Simulations: 500);
        (IReadOnlyList<PlannedSight> sights, int best) = Planner.Find(designs, Truth, goal, d => d.Bags);
        Assert.Equal(4, sights.Count);
        Assert.Equal(sights.Min(s => s.Design.Bags), sights[best].Design.Bags);
        Assert.All(sights, s => Assert.InRange(s.Power, 0.74, 0.9));
        // dear sites and cheap bags ask for many burials
        int dear = Planner.Find(designs, Truth, goal, new PlanCosts(1, 1000, 0).Of).Best;
        Assert.True(sights[dear].Design.Burials > sights[best].Design.Burials);
        Assert.Equal(sights.Select(s => s.Power), Planner.Find(designs, Truth, goal, d => d.Bags).Sights.Select(s => s.Power));
        // sites that are given are not looked for
        Assert.Equal(7, Planner.Find([designs[2] with { SitesPerGroup = 7 }], Truth, goal, d => d.Bags).Sights[0].Design.SitesPerGroup);
    }

    private static double OneCampaign(PlannedDesign design, double difference, Random random)
    {
        List<(double Value, int Site, int Campaign, int Part, int Plot)> burials = [];
        double Normal(double variance) => Math.Sqrt(variance)
            * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        bool isWithin = design.Comparison == PlannedComparison.Within, isAgain = design.Comparison == PlannedComparison.Again;
        double[] seasons = [.. Enumerable.Range(0, design.Campaigns).Select(_ => Normal(Truth.Campaign.Variance))];
        int sites = design.Comparison == PlannedComparison.Between ? 2 * design.SitesPerGroup : design.SitesPerGroup;
        for (int site = 0; site < sites; site++)
        {
            int stays = 1;
            while (stays < design.Campaigns && random.NextDouble() >= design.Dropout)
                stays++;
            double own = Normal(Truth.Site.Variance);
            double[] here = [.. seasons.Select(s => s + own + Normal(Truth.CampaignAtSite.Variance))];
            for (int part = 0; part < (isWithin ? 2 : 1); part++)
            {
                double treated = isWithin ? Normal(Truth.TreatmentAtSite.Variance) + part * difference : 0;
                for (int plot = 0; plot < design.Plots; plot++)
                {
                    double ground = Normal(Truth.Plot.Variance);
                    for (int i = 0; i < stays * design.Burials; i++)
                    {
                        int c = i / design.Burials;
                        double effect = isWithin ? treated : isAgain ? difference * c / (design.Campaigns - 1)
                            : site < design.SitesPerGroup ? 0 : difference;
                        double value = here[c] + ground + effect + Normal(Truth.Burial.Variance);
                        if (random.NextDouble() >= design.Loss)
                            burials.Add((value, site, c, part, plot));
                    }
                }
            }
        }

        // one record a burial: the planner's are means of cells
        bool hasCampaigns = design.Campaigns > 1, hasPlots = design.Plots > 1;
        (string Name, Func<(double Value, int Site, int Campaign, int Part, int Plot), string> UnitOf, bool IsThere)[] levels =
        [
            ("site", b => $"{b.Site}", true),
            ("treated part", b => $"{b.Site}.{b.Part}", isWithin),
            ("campaign at site", b => $"{b.Site}.{b.Campaign}", hasCampaigns),
            ("campaign", b => $"{b.Campaign}", hasCampaigns),
            ("plot", b => $"{b.Site}.{b.Plot}", hasPlots),
        ];
        levels = [.. levels.Where(l => l.IsThere)];
        return MixedModel.Fit(
            [.. burials.Select(b => new MixedRecord(b.Value, null, [.. levels.Select(l => l.UnitOf(b))], [1, EffectOf(b)]))],
            [.. levels.Select(l => new MixedFactor(l.Name))], 1).Value!.Effect(0, [0, 1]).PValue ?? 1;

        double EffectOf((double Value, int Site, int Campaign, int Part, int Plot) b) =>
            isWithin ? b.Part : isAgain ? b.Campaign / (design.Campaigns - 1.0) : b.Site < design.SitesPerGroup ? 0 : 1;
    }
}
