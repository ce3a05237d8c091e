using MathNet.Numerics.Random;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// Two groups whose weighings are lost: one kept means of its remaining fractions, the other k and S that it computed once, with another
/// lot's chemistry. Their bags are buried and weighed like all others, and then averaged by the group's own arithmetic, which is none of
/// the atlas's. They have their own random numbers, so that the campaign beside them is the same with and without them.
/// </summary>
internal sealed class SummaryMaker(InventedWorld world, Countries countries, DecayResponse response, StandardLots lots, int seed)
{
    private const int Burials = 6;

    /// <summary>What the reporting group took for the hydrolysable fractions: a little off those of its lots.</summary>
    private const double FastHydrolysableUsed = 0.79, SlowHydrolysableUsed = 0.48;

    private readonly Random _random = new Xoshiro256StarStar(seed + 9, threadSafe: false);

    public static Contributor FenArchive { get; } = Group("heron-fen-archive", "Heron Fen Archive");

    public static Contributor HeathThesis { get; } = Group("old-heath-thesis", "Old Heath Thesis Group");

    public List<ContributionDraft> MakeAll()
    {
        SitePlanner planner = new(world, countries, response, _random);
        BurialMaker burials = new(_random);
        return [Make(planner, burials, FenArchive, Summarised), Make(planner, burials, HeathThesis, Reported)];
    }

    private ContributionDraft Make(
        SitePlanner planner, BurialMaker burials, Contributor group, Func<SiteDraft, BurialDraft[], ResultDraft> sum)
    {
        ContributionDraft contribution = new(group, CampaignPlan.All[group.Campaigns[0]]);
        contribution.Lots.AddRange([lots.Fast[1], lots.Slow[1]]);
        foreach (SiteDraft site in planner.SitesFor(group))
        {
            contribution.Sites.Add(site);
            DateOnly buriedOn = contribution.Campaign.FirstBurial.AddDays(_random.Next(0, 10));
            int days = _random.Next(83, 98);
            BurialDraft[] weighed =
            [
                .. Enumerable.Range(1, Burials).Select(number => burials.Make(
                    contribution, site, number, lots.Fast[1], lots.Slow[1], buriedOn, days)),
            ];
            contribution.Results.Add(sum(site, weighed));
        }

        return contribution;
    }

    private static ResultDraft Summarised(SiteDraft site, BurialDraft[] weighed)
    {
        double[] fast = [.. weighed.Select(b => b.Fast.Remaining)], slow = [.. weighed.Select(b => b.Slow.Remaining)];
        return Begin(site, weighed, "summarised") with
        {
            FastMean = fast.Mean(),
            FastSd = fast.StandardDeviation(),
            SlowMean = slow.Mean(),
            SlowSd = slow.StandardDeviation(),
        };
    }

    private static ResultDraft Reported(SiteDraft site, BurialDraft[] weighed)
    {
        double StabilisationOf(BurialDraft b) => 1 - ((1 - b.Fast.Remaining) / FastHydrolysableUsed);
        double RateOf(BurialDraft b) =>
            -Math.Log(1 - ((1 - b.Slow.Remaining) / (SlowHydrolysableUsed * (1 - StabilisationOf(b))))) / b.Slow.Days!.Value;

        // a burial at its plateau has no k, and such a group leaves it out
        BurialDraft[] rated = [.. weighed.Where(b => double.IsFinite(RateOf(b)))];
        double[] s = [.. rated.Select(StabilisationOf)], k = [.. rated.Select(RateOf)];
        return Begin(site, rated, "reported") with
        {
            Rate = k.Mean(),
            RateSd = k.StandardDeviation(),
            Stabilisation = s.Mean(),
            StabilisationSd = s.StandardDeviation(),
            FastHydrolysableUsed = FastHydrolysableUsed,
            SlowHydrolysableUsed = SlowHydrolysableUsed,
        };
    }

    private static ResultDraft Begin(SiteDraft site, BurialDraft[] weighed, string evidence) => new(
        $"{site.SiteId}-means", site.SiteId, evidence, weighed.Length, weighed[0].Slow.BuriedOn, weighed[0].Slow.RetrievedOn!.Value,
        weighed.Average(b => b.Slow.DepthCentimetres));

    private static Contributor Group(string id, string title) => new(id, title, ContributorKind.Laboratory)
    {
        ResolutionGrams = 0.001,
        Basis = MassBasis.Litter,
        SiteCount = 16,
        Campaigns = [1],
        ReachKilometres = 90,
    };
}

/// <summary>One row of means; those that its evidence does not have are missing.</summary>
internal sealed record ResultDraft(
    string ResultId, string SiteId, string Evidence, int Burials, DateOnly BuriedOn, DateOnly RetrievedOn, double DepthCentimetres)
{
    public double? FastMean { get; init; }

    public double? FastSd { get; init; }

    public double? SlowMean { get; init; }

    public double? SlowSd { get; init; }

    public double? Rate { get; init; }

    public double? RateSd { get; init; }

    public double? Stabilisation { get; init; }

    public double? StabilisationSd { get; init; }

    public double? FastHydrolysableUsed { get; init; }

    public double? SlowHydrolysableUsed { get; init; }
}
