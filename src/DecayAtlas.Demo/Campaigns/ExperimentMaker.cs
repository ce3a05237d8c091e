using MathNet.Numerics.Random;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// Two groups that do more than bury and dig up once: one digs up at six dates, one warms half of its plots. They have their own
/// random numbers, so that the campaign beside them is the same with and without them.
/// </summary>
internal sealed class ExperimentMaker(InventedWorld world, Countries countries, DecayResponse response, int seed)
{
    /// <summary>Why bags of a series are flagged: they are to lie shorter and longer than a standard exposure.</summary>
    public const string SeriesCause = "retrieval-series";

    private const int SeriesReplicates = 3, PlotsPerTreatment = 2, BurialsPerPlot = 2;

    // kept from the plateau and from the weighing noise at every date
    private const double LeastSeriesRate = 0.006, MostSeriesRate = 0.0135;

    private static readonly int[] SeriesDays = [20, 40, 62, 90, 118, 150];

    private readonly Random _random = new Xoshiro256StarStar(seed + 5, threadSafe: false);

    public static Contributor SeriesStation { get; } = Laboratory("longwater-series-station", "Longwater Series Station", 18);

    public static Contributor WarmingCentre { get; } = Laboratory("warm-plots-centre", "Warm Plots Centre", 18);

    public List<ContributionDraft> MakeAll()
    {
        SitePlanner planner = new(world, countries, response, _random);
        BurialMaker burials = new(_random);
        return [Series(planner, burials), Warming(planner, burials)];
    }

    /// <summary>The flags that a series brings with it, as consequences of its design.</summary>
    public static IEnumerable<PlantedFault> Consequences(IEnumerable<ContributionDraft> experiments) =>
        from contribution in experiments
        from bag in contribution.Bags
        let days = bag.RetrievedOn!.Value.DayNumber - bag.BuriedOn.DayNumber
        where days is < 60 or > 120
        select new PlantedFault(contribution.Id, "bag",
            bag.BagId, days < 60 ? "exposure-short" : "exposure-long", $"one of a series: dug up after {days} days")
        {
            FollowsFrom =
            SeriesCause
        };

    private ContributionDraft Series(SitePlanner planner, BurialMaker burials)
    {
        ContributionDraft contribution = Begin(SeriesStation);
        foreach (SiteDraft site in planner.SitesFor(SeriesStation)
            .Where(s => Math.Exp(s.TrueLnRate) is > LeastSeriesRate and < MostSeriesRate))
        {
            contribution.Sites.Add(site);
            DateOnly buriedOn = contribution.Campaign.FirstBurial.AddDays(_random.Next(0, 10));
            for (int i = 0; i < SeriesDays.Length * SeriesReplicates; i++)
            {
                contribution.Burials.Add(burials.Make(
                    contribution, site, i + 1, contribution.Lots[0], contribution.Lots[1], buriedOn, SeriesDays[i / SeriesReplicates],
                    new PlotDraft("A", "", 0, 0) { FastRate = DecayResponse.FastOverSlowRate }));
            }
        }

        return contribution;
    }

    private ContributionDraft Warming(SitePlanner planner, BurialMaker burials)
    {
        ContributionDraft contribution = Begin(WarmingCentre);
        foreach (SiteDraft site in planner.SitesFor(WarmingCentre).Where(s => Math.Exp(s.TrueLnRate) < MostSeriesRate))
        {
            contribution.Sites.Add(site);
            DateOnly buriedOn = contribution.Campaign.FirstBurial.AddDays(_random.Next(0, 10));
            double warmer = DecayResponse.LnWarmingRatioAt(world.Temperature.At(site.LongitudeDegrees, site.LatitudeDegrees));
            int number = 0;
            foreach ((string mark, string treatment, double shift) in new[] { ("C", "control", 0.0), ("W", "warmed", warmer) })
            {
                for (int plot = 1; plot <= PlotsPerTreatment; plot++)
                {
                    for (int burial = 0; burial < BurialsPerPlot; burial++)
                    {
                        contribution.Burials.Add(burials.Make(
                            contribution, site, ++number, contribution.Lots[0], contribution.Lots[1], buriedOn, 90,
                            new PlotDraft($"{mark}{plot}", treatment, shift, 0)));
                    }
                }
            }
        }

        return contribution;
    }

    private static ContributionDraft Begin(Contributor contributor)
    {
        CampaignPlan campaign = CampaignPlan.All[contributor.Campaigns[0]];
        ContributionDraft contribution = new($"{campaign.Id}-{contributor.Id}", contributor, campaign);
        contribution.Lots.Add(StandardLots.Fast[1]);
        contribution.Lots.Add(StandardLots.Slow[1]);
        return contribution;
    }

    private static Contributor Laboratory(string id, string title, int sites) => new(id, title, ContributorKind.Laboratory)
    {
        ResolutionGrams = 0.001,
        SiteCount = sites,
        Campaigns = [1],
        ReachKilometres = 90,
    };
}

/// <summary>A plot that is not like the site around it.</summary>
/// <param name="Plot">Its name.</param>
/// <param name="Treatment">What was done to it.</param>
/// <param name="LnRateShift">Added to the site's true ln k.</param>
/// <param name="StabilisationShift">Added to the site's true S.</param>
internal sealed record PlotDraft(string Plot, string Treatment, double LnRateShift, double StabilisationShift)
{
    /// <summary>Rate of the fast litter over that of the slow one; missing where it is taken to be at its plateau.</summary>
    public double? FastRate { get; init; }
}
