namespace DecayAtlas.Questions.Plans;

/// <summary>What a plan promises, and what it may not, in plain sentences.</summary>
internal static class PlanSentences
{
    public static IEnumerable<string> OfOneSite(PlanRequest request, PlanRow[] rows)
    {
        PlanRow first = rows[0], last = rows[^1];
        string value = request.IsOfRate ? "k" : "S";
        return
        [
            $"The mean of one site, half of its 95 % interval: {Half(request, first.SiteHalfWidth)} of {value} with "
                + $"{Counted.Of(first.BurialsInAll, "burial")}, {Half(request, last.SiteHalfWidth)} with "
                + $"{Counted.Of(last.BurialsInAll, "burial")}, beside other sites of the same campaigns, lots and batches.",
            $"As {value} of the site over seasons, with what its lots and batches share: {Half(request, first.SiteHalfWidthOverSeasons)} "
                + $"and {Half(request, last.SiteHalfWidthOverSeasons)}. More burials do not shrink what a campaign, a lot or a batch adds; "
                + "more campaigns shrink what a campaign and a batch add, and what a lot adds stays.",
            "The variances are taken as known. A site that has to learn its scatter from its own burials has wider intervals: 6.5 times "
                + "as wide with 2 burials, 2.2 times with 3.",
            .. LossSentence(request),
        ];
    }

    public static string WhyNone(PlanRequest request, PlannedComparison comparison) =>
        $"Even {Planner.MostSites} sites{(comparison == PlannedComparison.Between ? " in each group" : "")} would not show so small a "
        + "difference." + (comparison == PlannedComparison.Again
            ? " Sites do not average out what all sites share in a season; only more campaigns do."
            : request.HasOwnLots || request.HasOwnBatches
            ? " Sites do not average out what all bags of a lot or a batch share; let both groups share them." : "");

    public static IEnumerable<string> Of(
        PlanRequest request, PlanVariances variances, PlannedComparison comparison, PlanRow[] rows, PlanRow? best)
    {
        string wanted = $"{request.EffectTold} {Between(comparison)} "
            + Invariant($"with a chance of {request.Power:P0} (two-sided test at 5 %)");
        if (best is null)
        {
            PlanRow most = rows.MaxBy(r => r.Power)!;
            yield return Invariant($"None of these designs shows {wanted}: the chance is {most.Power:P0} at most.");
        }
        else
        {
            yield return $"To see {wanted}: {Described(best, comparison)}, {best.BurialsInAll} burials or {best.Bags} bags in all, is "
                + (request.Costs is null ? "the design of fewest bags" : Invariant($"the cheapest ({best.Cost:0})"))
                + $" of those tried.{(rows.Length > 1 ? " Burials can't stand in for sites." : "")}";
            if (best.Simulations > 0)
            {
                yield return Invariant($"Its power is {best.Power:0.000}, give or take {best.PowerError:0.000}: the share of ")
                    + $"{best.Simulations} simulated campaigns, analysed as the real one would be, that showed it "
                    + Invariant($"({best.PowerByFormula:0.000} by formula).");
            }

            if (best.SmallestEffect is { } smallest)
            {
                yield return (request.IsOfRate ? Invariant($"A ratio nearer to 1 than {smallest:0.00} (or {1 / smallest:0.00})")
                    : Invariant($"A difference of S smaller than {Math.Abs(smallest):0.000}"))
                    + " will be missed more often than that. Groups that are then not told apart are not shown to be alike.";
            }

            yield return $"The mean of one of its sites is good to ±{Half(request, best.SiteHalfWidth)} "
                + $"of {(request.IsOfRate ? "k" : "S")} beside other sites of its campaigns, and to "
                + $"±{Half(request, best.SiteHalfWidthOverSeasons)} over seasons, lots and batches: no plan for groups "
                + "is one for single sites.";
        }

        if (variances.AreUncertain)
        {
            yield return "The variances are themselves estimates: the power is its mean over what they may be, so that a single campaign "
                + "may have more or less.";
        }
        else
        {
            yield return "The variances are taken as known; where they are estimates, give their intervals (site=0.04:0.02..0.09).";
        }

        yield return comparison switch
        {
            PlannedComparison.Between => "Sites are taken as drawn from their groups. Sites that were not allotted to groups by lot show "
                + "that groups differ, not why.",
            PlannedComparison.Within when variances.TreatmentAtSite is { Variance: 0, IsUncertain: false } =>
                "What the treatment does is taken as the same at all sites, which is seldom so: state treatment-at-site, or promise less. "
                + "Treatments must be allotted to plots by lot.",
            PlannedComparison.Within => "Treatments must be allotted to plots by lot.",
            _ => "The effect is the change from the first campaign to the last, as a straight line, the same at all sites but for what "
                + "each campaign adds there. "
                + (variances.Campaign is { Variance: 0, IsUncertain: false }
                    ? "Seasons are taken as alike, which is seldom so: state campaign."
                    : "What seasons add to all sites does not average out over sites."),
        };
        yield return SharedSentence(request, variances, comparison);
        foreach (string sentence in LossSentence(request))
            yield return sentence;
    }

    private static string SharedSentence(PlanRequest request, PlanVariances variances, PlannedComparison comparison)
    {
        string sides = comparison switch
        {
            PlannedComparison.Between => "groups",
            PlannedComparison.Within => "treatments",
            _ => "campaigns",
        };
        string Size(double error) => request.IsOfRate ? Invariant($"{100 * error:0.#} % of k") : Invariant($"{error:0.000} of S");
        string Part(bool isOwn, string what, double error) => !isOwn ? $"{what} is taken as shared by the {sides} and cancels"
            : error > 0 ? $"{what} is in the power as variance ({Size(error)}), since the {sides} have their own"
            : $"{what} is not known, and not in the power, though the {sides} have their own";
        string note = comparison == PlannedComparison.Again && !request.HasOwnBatches
            ? " Batches of another campaign are seldom the same: --own batches counts them." : "";
        return $"What all bags of a batch share {Part(request.HasOwnBatches, "(water, drying)", variances.BatchError)}; "
            + $"what all bags of a lot share {Part(request.HasOwnLots, "(chemistry, tare)", variances.LotError)}.{note}";
    }

    private static IEnumerable<string> LossSentence(PlanRequest request) => request.Loss == 0 && request.Dropout == 0
        ? ["No losses are counted: name the share of burials that will be lost or give no value with --loss."]
        : [];

    private static string Between(PlannedComparison comparison) => comparison switch
    {
        PlannedComparison.Between => "between two groups of sites",
        PlannedComparison.Within => "between two treatments at each site",
        _ => "from the first to the last campaign",
    };

    private static string Described(PlanRow row, PlannedComparison comparison) =>
        $"{row.SitesPerGroup} sites{(comparison == PlannedComparison.Between ? " in each group" : "")}, {Counted.Of(row.Plots, "plot")} "
        + $"{(comparison == PlannedComparison.Within ? "of each treatment at each" : "at each")}, "
        + $"{Counted.Of(row.Burials, "burial")} in each plot, {Counted.Of(row.Campaigns, "campaign")}";

    private static string Half(PlanRequest request, double half) =>
        request.IsOfRate ? Invariant($"{half:0.#} %") : Invariant($"{half:0.000}");
}
