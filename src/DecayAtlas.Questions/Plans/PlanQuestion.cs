using System.Globalization;

namespace DecayAtlas.Questions.Plans;

/// <summary>Plans campaigns: how many sites, plots, burials and campaigns show a stated effect.</summary>
public static class PlanQuestion
{
    private const string OfOneSite = "mean";

    /// <summary>What a plan can be of, by name.</summary>
    public static IReadOnlyDictionary<string, PlannedComparison?> Designs { get; } =
        Enum.GetValues<PlannedComparison>().ToDictionary(c => NameOf(c), c => (PlannedComparison?)c).Append(new(OfOneSite, null))
            .ToDictionary();

    /// <summary>
    /// The variances of a release: between sites within an ecosystem, seasons, campaigns of a site, plots and burials, with the intervals
    /// of their shares, the sum of all taken as known. Burials of the plan err in weighing as those of the release do on average.
    /// </summary>
    /// <param name="campaigns">Whose medians are what lots and batches share.</param>
    /// <returns>The variances, or why the release gives none.</returns>
    public static (PlanVariances? Variances, string? Statement) VariancesOf(
        ReleasedRates rates, IReadOnlyList<ReleasedSiteCampaign> campaigns, string releaseId, AskedOf of)
    {
        VarianceAnswer answer = VarianceQuestion.Ask(rates, of);
        IReadOnlyList<VarianceShare> shares = answer.Shares.Count > 0 ? answer.Shares : answer.SitesAlone;
        if (shares.Count == 0)
            return (null, answer.Statement ?? "The release gives no variances.");
        double total = shares.Sum(s => s.Variance), weighing = WeighingVariance(rates, of);
        VariancePart burial = Part(UnitLevel.Burial);
        string sites = answer.Shares.Any(s => s.Level == "ecosystem") ? ", sites within ecosystems" : "";
        bool isRate = of == AskedOf.Rate;
        string weighed = weighing > 0 ? Invariant($"; burial holds {weighing:0.#####} of weighings, which err in the plan as here") : "";
        return (new PlanVariances($"release {releaseId}, {answer.Burials} burials{sites}{weighed}")
        {
            Site = Part(UnitLevel.Site.Name),
            Campaign = Part(UnitLevel.Campaign.Name),
            CampaignAtSite = Part(UnitLevel.CampaignAtSite.Name),
            Plot = Part(UnitLevel.Plot.Name),
            Burial = new VariancePart(burial.Variance + weighing, burial.Lower95 + weighing, burial.Upper95 + weighing),
            LotError = Median(c => isRate ? c.RateMeanLotUncertaintyPerDay / c.RateMeanPerDay : c.StabilisationMeanLotUncertainty),
            BatchError = Median(c => isRate ? c.RateMeanBatchUncertaintyPerDay / c.RateMeanPerDay : c.StabilisationMeanBatchUncertainty),
        }, null);

        VariancePart Part(string level) => shares.FirstOrDefault(s => s.Level == level) is { } share
            ? new VariancePart(share.Variance, share.ShareLower95 * total, share.ShareUpper95 * total) : default;

        double Median(Func<ReleasedSiteCampaign, double?> error)
        {
            double[] known = [.. campaigns.Select(error).OfType<double>().Where(e => e >= 0 && double.IsFinite(e)).Order()];
            return known.Length == 0 ? 0 : known[known.Length / 2];
        }
    }

    // each burial's own part of the known errors, a mean over burials
    private static double WeighingVariance(ReleasedRates rates, AskedOf of)
    {
        (double Variance, int Burials)[] known =
        [
            .. rates.Rows.Where(r => r.IsUntreated && JointModel.Has(r, of)).Select(r => (rates.RecordOf(r, [], [1]).Error, r))
                .Select(x => (of == AskedOf.Rate ? x.Error.First : x.Error.Second, JointModel.BurialsOf(x.r, of))),
        ];
        return known.Length == 0 ? 0 : known.Sum(k => k.Variance * k.Burials) / known.Sum(k => k.Burials);
    }

    public static PlanAnswer Ask(PlanRequest request, PlanVariances variances)
    {
        PlanAnswer answer = new(
            request.Of.Code(), NameOf(request.Comparison), request.Effect, request.Power, variances, [], null, null, []);
        return request.Comparison is { } comparison ? AskComparison(answer, request, variances, comparison)
            : AskOneSite(answer, request, variances);
    }

    /// <summary>Where there is nothing to plan with.</summary>
    public static PlanAnswer WithoutVariances(PlanRequest request, string statement) =>
        new(request.Of.Code(), NameOf(request.Comparison), request.Effect, request.Power, null, [], null, statement, []);

    private static string NameOf(PlannedComparison? comparison) =>
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
        string sites = all.Design == NameOf(PlannedComparison.Between) ? "sites in each group" : "sites";
        string burials = $"{Counted.Of(after.Burials, "burial")} in each plot and {Counted.Of(after.Campaigns, "campaign")}";
        bool isOther = before.SitesPerGroup != after.SitesPerGroup || all.Best is null != without.Best is null;
        return new(isOther, isOther
            ? $"by formula {after.SitesPerGroup} {sites} with {burials}, instead of {before.SitesPerGroup}."
            : $"by formula the plan needs {after.SitesPerGroup} {sites} with {burials} as well.");
    }
}
