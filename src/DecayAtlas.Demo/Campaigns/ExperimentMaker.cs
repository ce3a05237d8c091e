using MathNet.Numerics.Random;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// Two groups that do more than bury and dig up once: one digs up at six dates, one warms half of its plots. They have their own
/// random numbers, so that the campaign beside them is the same with and without them.
/// </summary>
internal sealed class ExperimentMaker(InventedWorld world, Countries countries, DecayResponse response, StandardLots lots, int seed)
{
    /// <summary>Why bags of a series are flagged: they are to lie shorter and longer than a standard exposure.</summary>
    public const string SeriesCause = "retrieval-series";

    private const int SeriesReplicates = 3, PlotsPerTreatment = 2, BurialsPerPlot = 2;

    // of what soil and climate let expect: kept from the plateau and from the weighing noise at most dates
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
        let days = bag.Days
        where days is < 60 or > 120
        select new PlantedFault(contribution.Id, "bag", bag.BagId, days < 60 ? "exposure-short" : "exposure-long",
            $"one of a series: dug up after {days} days")
        { FollowsFrom = SeriesCause };

    private ContributionDraft Series(SitePlanner planner, BurialMaker burials)
    {
        ContributionDraft contribution = Begin(SeriesStation);
        PlotDraft plot = new("A", "");
        foreach (SiteDraft site in planner.SitesFor(SeriesStation)
            .Where(s => Math.Exp(s.ExpectedLnRate) is > LeastSeriesRate and < MostSeriesRate))
        {
            DateOnly buriedOn = Open(contribution, site);
            for (int i = 0; i < SeriesDays.Length * SeriesReplicates; i++)
                Bury(burials, contribution, site, buriedOn, SeriesDays[i / SeriesReplicates], plot);
        }

        return contribution;
    }

    private ContributionDraft Warming(SitePlanner planner, BurialMaker burials)
    {
        ContributionDraft contribution = Begin(WarmingCentre);
        foreach (SiteDraft site in planner.SitesFor(WarmingCentre).Where(s => Math.Exp(s.ExpectedLnRate) < MostSeriesRate))
        {
            DateOnly buriedOn = Open(contribution, site);
            double warmer = DecayResponse.LnWarmingRatioAt(world.Temperature.At(site.LongitudeDegrees, site.LatitudeDegrees));
            foreach ((string mark, string treatment, double shift) in new[] { ("C", "control", 0.0), ("W", "warmed", warmer) })
            {
                for (int i = 0; i < PlotsPerTreatment * BurialsPerPlot; i++)
                {
                    PlotDraft plot = new($"{mark}{1 + (i / BurialsPerPlot)}", treatment, shift);
                    Bury(burials, contribution, site, buriedOn, 90, plot);
                }
            }
        }

        return contribution;
    }

    private ContributionDraft Begin(Contributor contributor)
    {
        ContributionDraft contribution = new(contributor, CampaignPlan.All[contributor.Campaigns[0]]);
        contribution.Lots.AddRange([lots.Fast[1], lots.Slow[1]]);
        return contribution;
    }

    private DateOnly Open(ContributionDraft contribution, SiteDraft site)
    {
        contribution.Sites.Add(site);
        return contribution.Campaign.FirstBurial.AddDays(_random.Next(0, 10));
    }

    private void Bury(
        BurialMaker burials, ContributionDraft contribution, SiteDraft site, DateOnly buriedOn, int days, PlotDraft plot)
    {
        int number = contribution.At(site.SiteId).Count() + 1;
        contribution.Burials.Add(burials.Make(
            contribution, site, number, lots.Fast[1], lots.Slow[1], buriedOn, days, plot));
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
/// <param name="LnRateShift">Added to the site's true ln k.</param>
internal sealed record PlotDraft(string Plot, string Treatment, double LnRateShift = 0);
