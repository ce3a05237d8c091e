namespace DecayAtlas.Decomposition.Plans;

/// <summary>What a plan is to reach.</summary>
/// <param name="Difference">On the scale of the outcome (ln k or S); of either sign.</param>
/// <param name="Simulations">Campaigns simulated for each design; where missing, the best design alone is simulated, as often as the work
/// on it allows, and not at all where it is so large that the formula is as good.</param>
public sealed record PlanGoal(double Difference, double Power = 0.8, double Level = 0.05, int? Simulations = null, ulong Seed = 1);

/// <summary>A design, and what it would see.</summary>
/// <param name="Simulated">Missing where nothing was simulated.</param>
/// <param name="SmallestDifference">Seen with the power of the goal, by formula; missing where none is.</param>
public sealed record PlannedSight(
    PlannedDesign Design, double PowerByFormula, SimulatedPower? Simulated, double? SmallestDifference)
{
    public double Power => Simulated?.Power ?? PowerByFormula;
}

/// <summary>Finds the fewest sites of designs by formula, and confirms or mends them by simulation.</summary>
public static class Planner
{
    public const int MostSites = 10_000;

    /// <summary>Cells times levels that are fitted for one design (about 5 s on one core), and at most for one simulated
    /// campaign.</summary>
    private const int WorkOfDesign = 100_000, WorkOfCampaign = 3_000;
    private const int MostSimulations = 4_000, FewestSimulations = 100;

    /// <summary>Designs that are looked at in turn, each for a time the best, before the search for a better one ends.</summary>
    private const int MostLooks = 4;

    /// <param name="designs">Their number of sites is found; one with 0 sites stands for the fewest that reach the power.</param>
    /// <param name="costOf">Which of those that reach it is best: the cheapest.</param>
    /// <returns>The designs that reach the power (all with sites of their own), and the place of the best among those that do; -1 without
    /// one.</returns>
    public static (IReadOnlyList<PlannedSight> Sights, int Best) Find(
        IReadOnlyList<PlannedDesign> designs, PlanVariances variances, PlanGoal goal, Func<PlannedDesign, double> costOf)
    {
        List<(PlannedDesign Design, PlannedPower Power)> found = [];
        foreach (PlannedDesign design in designs)
        {
            PlannedPower power = new(design, variances, goal.Level, goal.Seed);
            int? sites = design.SitesPerGroup > 0 ? design.SitesPerGroup : power.FewestSites(goal.Difference, goal.Power, MostSites);
            if (sites is { } g)
                found.Add((design with { SitesPerGroup = g }, power));
        }

        List<PlannedSight> sights = [.. found.Select(f => Look(f.Design, f.Power, goal.Simulations ?? 0))];
        int best = Best();
        // a design that simulation makes dearer may give way to another
        for (int looks = 0; goal.Simulations is null && looks < MostLooks && best >= 0 && sights[best].Simulated is null; looks++)
        {
            (PlannedDesign design, PlannedPower power) = found[best];
            int campaigns = SimulationsOf(design);
            if (campaigns == 0)
                break;
            sights[best] = Look(design, power, campaigns);
            best = Best();
        }

        return (sights, best);

        PlannedSight Look(PlannedDesign design, PlannedPower power, int campaigns)
        {
            PlannedSight sight = Sight(design, power, campaigns);
            bool isAsked = designs.Any(d => d.SitesPerGroup > 0);
            if (isAsked || sight.Simulated is not { } seen || Math.Abs(seen.Power - goal.Power) <= 2.5 * seen.MonteCarloError)
                return sight;
            // the formula is off by so much here: aim beside it
            double aim = Math.Clamp(goal.Power + sight.PowerByFormula - seen.Power, 0.01, 0.999);
            return power.FewestSites(goal.Difference, aim, MostSites) is { } g && g != design.SitesPerGroup
                ? Sight(design with { SitesPerGroup = g }, power, campaigns) : sight;
        }

        PlannedSight Sight(PlannedDesign design, PlannedPower power, int campaigns)
        {
            SimulatedPower? simulated = campaigns == 0 ? null
                : SimulatedPower.Of(design, variances, goal.Difference, campaigns, goal.Seed, goal.Level);
            return new PlannedSight(
                design, power.Of(goal.Difference, design.SitesPerGroup), simulated,
                power.SmallestDifference(goal.Power, design.SitesPerGroup));
        }

        int Best() => sights.Select((s, i) => (s, i))
            .Where(x => x.s.Power >= goal.Power - 2.5 * (x.s.Simulated?.MonteCarloError ?? 0))
            .Select(x => (int?)x.i).MinBy(i => costOf(sights[i!.Value].Design)) ?? -1;
    }

    private static int SimulationsOf(PlannedDesign design)
    {
        long cells = (long)design.SitesInAll * design.Parts * design.Plots * design.Campaigns;
        long each = cells * (1 + (design.Campaigns > 1 ? 2 : 0) + (design.Parts > 1 ? 1 : 0) + (design.Plots > 1 ? 1 : 0));
        if (design.IsBalanced && design.Comparison != PlannedComparison.Again)
            each = 1 + each / 50;
        return each > WorkOfCampaign ? 0 : (int)Math.Clamp(WorkOfDesign / each, FewestSimulations, MostSimulations);
    }
}
