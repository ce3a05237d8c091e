namespace DecayAtlas.Questions.Answers;

/// <summary>Variances of ln k on which a plan is built: between sites of one group, and between burials of one site.</summary>
public sealed record PlanVariances(double Site, double Burial, string Source);

/// <summary>How many sites and burials show a stated ratio of k between two groups, or why that can't be said.</summary>
/// <param name="Variances">Missing where a release gives none.</param>
/// <param name="Designs">For each number of burials a site the fewest sites a group.</param>
public sealed record PlanAnswer(
    double Ratio, double Power, PlanVariances? Variances, IReadOnlyList<PlannedComparison> Designs, string? Statement,
    IReadOnlyList<string> Sentences);

/// <summary>Plans a comparison of two groups of sites.</summary>
public static class PlanQuestion
{
    private const int MostBurials = 8;

    /// <summary>
    /// The variances of a release: between sites within an ecosystem, and between burials of a site, campaigns and plots included,
    /// since a campaign of one season and one plot a site has them in its scatter.
    /// </summary>
    /// <returns>The variances, or why the release gives none.</returns>
    public static (PlanVariances? Variances, string? Statement) VariancesOf(VarianceAnswer answer, string releaseId)
    {
        IReadOnlyList<VarianceShare> shares = answer.Shares.Count > 0 ? answer.Shares : answer.SitesAlone;
        if (shares.Count == 0)
            return (null, answer.Statement ?? "The release gives no variances.");
        double site = shares.Where(s => s.Level == "site").Sum(s => s.Variance);
        double below = shares.Where(s => s.Level is "campaign at site" or "plot" or "burial").Sum(s => s.Variance);
        string within = answer.Shares.Count > 0 ? ", sites within ecosystems" : "";
        return (new PlanVariances(site, below, $"release {releaseId}, {answer.Burials} burials{within}"), null);
    }

    /// <summary>From the variances of a release.</summary>
    public static PlanAnswer Ask(ReleasedRates rates, string releaseId, double ratio, double power)
    {
        VarianceAnswer scatter = VarianceQuestion.Ask(rates);
        (PlanVariances? variances, string? statement) = VariancesOf(scatter, releaseId);
        if (variances is null)
            return new PlanAnswer(ratio, power, null, [], statement, []);
        PlanAnswer plan = Ask(ratio, power, variances);
        return plan;
    }

    /// <param name="ratio">Ratio of k to be seen, above 0 and not 1.</param>
    public static PlanAnswer Ask(double ratio, double power, PlanVariances variances)
    {
        Answer<PlannedComparison[]> needed = Planning.Needed(Math.Log(ratio), variances.Site, variances.Burial, MostBurials, power);
        if (needed.Value is not { } designs)
            return new PlanAnswer(ratio, power, variances, [], needed.Statement!.Sentence, []);
        PlannedComparison one = designs[0], many = designs[^1];
        PlannedComparison fewest = designs.MinBy(d => d.SitesPerGroup * d.BurialsPerSite)!;
        return new PlanAnswer(ratio, power, variances, designs, null,
        [
            Invariant($"To see a ratio of k of {ratio:0.00} between two groups with a chance of {power:P0} (two-sided test at 5 %): ")
                + $"{one.SitesPerGroup} sites in each group with one burial each, or {many.SitesPerGroup} with {many.BurialsPerSite} each.",
            $"Fewest burials in all: {fewest.SitesPerGroup} sites in each group with {fewest.BurialsPerSite} each. "
                + "Burials can't stand in for sites.",
            "Sites are taken as drawn from one group each, in one season, all with the same litter lots. Losses (lost bags, k that "
                + "does not exist) come on top.",
        ]);
    }
}
