using System.Globalization;

namespace DecayAtlas.Questions.Plans;

/// <summary>Plans campaigns: how many sites, plots, burials and campaigns show a stated effect.</summary>
public static class PlanQuestion
{
    public const string OfOneSite = "mean";

    /// <summary>
    /// The variances of a release: between sites within an ecosystem, between campaigns of a site, plots and burials, with the intervals
    /// of their shares, the sum of all taken as known; that of burials from its degrees of freedom.
    /// </summary>
    /// <param name="campaigns">Whose medians are what lots and batches share.</param>
    /// <returns>The variances, or why the release gives none.</returns>
    public static (PlanVariances? Variances, string? Statement) VariancesOf(
        VarianceAnswer answer, IReadOnlyList<ReleasedSiteCampaign> campaigns, string releaseId)
    {
        IReadOnlyList<VarianceShare> shares = answer.Shares.Count > 0 ? answer.Shares : answer.SitesAlone;
        if (shares.Count == 0)
            return (null, answer.Statement ?? "The release gives no variances.");
        // where campaigns are told apart from those of one site, the first are seasons that all sites share
        bool hasSeasons = shares.Any(s => s.Level == "campaign at site");
        double total = shares.Sum(s => s.Variance);
        // var(s²) = 2 σ⁴/df, df what is left of burials within their finest units
        double burial = Part("burial").Variance;
        int within = answer.Burials - shares.Where(s => s.Level != "burial").Max(s => s.Units);
        string sites = answer.Shares.Any(s => s.Level == "ecosystem") ? ", sites within ecosystems" : "";
        return (new PlanVariances($"release {releaseId}, {answer.Burials} burials{sites}")
        {
            Site = Part("site"),
            Campaign = hasSeasons ? Part("campaign") : default,
            CampaignAtSite = Part(hasSeasons ? "campaign at site" : "campaign"),
            Plot = Part("plot"),
            Burial = VariancePart.WithError(burial, burial * Math.Sqrt(2.0 / Math.Max(1, within))),
            LotError = MedianShare(c => c.RateMeanLotUncertaintyPerDay),
            BatchError = MedianShare(c => c.RateMeanBatchUncertaintyPerDay),
        }, null);

        VariancePart Part(string level) => shares.FirstOrDefault(s => s.Level == level) is { } share
            ? new VariancePart(share.Variance, share.ShareLower95 * total, share.ShareUpper95 * total) : default;

        double MedianShare(Func<ReleasedSiteCampaign, double?> error)
        {
            double[] known = [.. campaigns.Where(c => c.RateMeanPerDay > 0 && error(c) is not null)
                .Select(c => error(c)!.Value / c.RateMeanPerDay!.Value).Order()];
            return known.Length == 0 ? 0 : known[known.Length / 2];
        }
    }

    public static PlanAnswer Ask(PlanRequest request, PlanVariances variances)
    {
        PlanAnswer answer = new(
            request.Outcome, NameOf(request.Comparison), request.Effect, request.Power, variances, [], null, null, []);
        return request.Comparison is { } comparison ? AskComparison(answer, request, variances, comparison)
            : AskOneSite(answer, request, variances);
    }

    /// <summary>Where there is nothing to plan with.</summary>
    public static PlanAnswer WithoutVariances(PlanRequest request, string statement) =>
        new(request.Outcome, NameOf(request.Comparison), request.Effect, request.Power, null, [], null, statement, []);

    public static string NameOf(PlannedComparison? comparison) =>
        comparison is { } c ? c.ToString().ToLower(CultureInfo.InvariantCulture) : OfOneSite;

    private static PlanAnswer AskOneSite(PlanAnswer answer, PlanRequest request, PlanVariances variances)
    {
        PlanRow[] rows = [.. request.Designs.Select(d => RowOf(request, variances, d with { SitesPerGroup = 1 }, null))];
        return answer with { Designs = rows, Sentences = [.. PlanSentences.OfOneSite(request, rows)] };
    }

    private static PlanAnswer AskComparison(PlanAnswer answer, PlanRequest request, PlanVariances variances, PlannedComparison comparison)
    {
        PlannedDesign[] designs = [.. request.Designs];
        if (comparison == PlannedComparison.Again)
        {
            designs = [.. designs.Where(d => d.Campaigns >= 2)];
            if (designs.Length == 0)
            {
                return answer with
                {
                    Statement = "A change over time needs 2 campaigns or more: name them with --campaigns, for example 3..8.",
                };
            }

            if (variances.Campaign is { Variance: > 0 } or { IsUncertain: true } && designs.All(d => d.Campaigns < 3))
            {
                return answer with
                {
                    Statement = "With 2 campaigns a change can't be told from the difference of two seasons, however many sites; take 3 "
                        + "campaigns or more, or compare changed sites with others (--design between).",
                };
            }
        }

        (IReadOnlyList<PlannedSight> sights, int best) = Planner.Find(
            designs, variances, new PlanGoal(request.Difference, request.Power, Simulations: request.Simulations, Seed: request.Seed),
            d => request.Costs?.Of(d) ?? d.Bags);
        if (sights.Count == 0)
            return answer with { Statement = PlanSentences.WhyNone(request, comparison) };
        PlanRow[] rows = [.. sights.Select(s => RowOf(request, variances, s.Design, s))];
        PlanRow? chosen = best < 0 ? null : rows[best];
        return answer with
        {
            Designs = rows,
            Best = chosen,
            Sentences = [.. PlanSentences.Of(request, variances, comparison, rows, chosen)],
        };
    }

    private static PlanRow RowOf(PlanRequest request, PlanVariances variances, PlannedDesign design, PlannedSight? sight)
    {
        SitePrecision site = SitePrecision.Of(design, variances);
        int sitesInAll = request.Comparison is null ? 1 : design.SitesInAll;
        PlannedDesign counted = request.Comparison is null ? design with { Comparison = PlannedComparison.Again } : design;
        return new PlanRow(
            NameOf(request.Comparison), design.SitesPerGroup, sitesInAll, design.Plots, design.Burials, design.Campaigns,
            counted.BurialsInAll, counted.Bags, counted.ExpectedLost, request.Costs?.Of(counted), sight?.Power,
            sight?.Simulated?.MonteCarloError, sight?.PowerByFormula, sight?.Simulated?.Campaigns ?? 0,
            request.Told(Math.Sign(request.Effect is null ? 1 : request.Difference) * sight?.SmallestDifference),
            request.ToldHalf(site.Scatter), request.ToldHalf(site.OverCampaigns));
    }

    /// <summary>What is another between a plan with the noted records and one without; by formula alone, so that chance has no part in
    /// it.</summary>
    public static AnswerChange ChangeOf(PlanAnswer all, PlanAnswer without)
    {
        if (AnswerChanges.OfStatements(all.Statement, without.Statement) is { } told)
            return told;
        (PlanRow before, PlanRow after) = (all.Designs[0], without.Designs[0]);
        if (all.Best is null && without.Best is null)
            return new(false, "no conclusion changes.");
        string burials = $"{Counted.Of(after.Burials, "burial")} in each plot and {Counted.Of(after.Campaigns, "campaign")}";
        bool isOther = before.SitesPerGroup != after.SitesPerGroup || all.Best is null != without.Best is null;
        return new(isOther, isOther
            ? $"by formula {after.SitesPerGroup} sites in each group with {burials}, instead of {before.SitesPerGroup}."
            : $"by formula the plan needs {after.SitesPerGroup} sites in each group with {burials} as well.");
    }
}
