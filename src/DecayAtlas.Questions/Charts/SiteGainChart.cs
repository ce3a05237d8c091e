namespace DecayAtlas.Questions.Charts;

/// <summary>How sure the mean of a region is with each number of new sites, drawn: the whole, and the part of it that sites
/// lower.</summary>
public static class SiteGainChart
{
    public static Chart Of(SitePlan plan)
    {
        SiteStep last = plan.Steps[^1];
        string region = plan.Regions is [var only] ? only : $"{plan.Regions.Count} regions";
        double floor = plan.Now.Floor;
        return new PanelChart(
            $"{Counted.Of(last.Sites, "site")}: the mean of {region} from ± {Told(plan.Now.Sum)} to ± {Told(last.Chosen)} %",
            $"Half-width of the interval of the mean of k of {region} against the number of new sites, falling from {Told(plan.Now.Sum)} % "
            + $"to {Told(last.Chosen)} % at the proposed places, {Told(last.Spread)} % at places spread out and {Told(last.AtRandom)} % at "
            + $"places drawn at random; with lots and batches left as they are, no number of sites brings it below {Told(floor)} %. "
            + $"Beside it the part that sites lower, which falls from {Told(OfSites(plan.Now.Sum))} to {Told(OfSites(last.Chosen))} %.",
            [
                new XyChart("All that the mean is off by", "", Sites(plan), Half(plan),
                [
                    .. Lines(plan, half => half),
                    new Rule(SitePlan.PercentOf(floor)) { IsDashed = true, Label = "floor: no number of sites goes below" },
                    new Rule(SitePlan.PercentOf(plan.Now.Shared)) { Label = "of it lots and batches that sites share" },
                ]),
                new XyChart("Of it what sites lower", "", Sites(plan), Half(plan), [.. Lines(plan, OfSites)]),
            ], 2)
        {
            Note = "Told by members of the model that did not choose. Parts add up as squares.",
            Height = 480,
        };

        // where random places seem to do harm, which is chance, nothing is left to root
        double OfSites(double half) => Math.Sqrt(Math.Max(0, half * half - floor * floor));
    }

    private static Axis Sites(SitePlan plan) => new("new sites") { From = 0, To = Math.Max(1, plan.Steps.Count - 1) };

    private static Axis Half(SitePlan plan) =>
        new(Invariant($"half of the {100 * plan.Level:0.#} % interval (% of k)")) { From = 0 };

    private static IEnumerable<Layer> Lines(SitePlan plan, Func<double, double> part)
    {
        double At(double half) => SitePlan.PercentOf(part(half));
        yield return new Band([.. plan.Steps.Select(s => ((double)s.Sites, At(s.AtRandomLower), At(s.AtRandomUpper)))])
        {
            Series = 2,
            Label = "drawn at random (8 of 10 draws)",
        };
        yield return new Line([.. plan.Steps.Select(s => ((double)s.Sites, At(s.Spread)))])
        {
            Series = 3,
            Label = "spread over the region",
        };
        yield return new Line([.. plan.Steps.Select(s => ((double)s.Sites, At(s.Chosen)))]) { Series = 0, Label = "proposed" };
    }

    private static string Told(double half) => Invariant($"{SitePlan.PercentOf(half):0.0}");
}
