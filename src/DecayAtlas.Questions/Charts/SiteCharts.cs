namespace DecayAtlas.Questions.Charts;

/// <summary>Charts of the summaries of sites.</summary>
internal static class SiteCharts
{
    /// <summary>More points than this and every second (third, ...) is left out, so that a drawing stays one.</summary>
    private const int MostPoints = 4000;

    /// <summary>Mean k against mean S of untreated site campaigns, with the caution that the two share their inputs.</summary>
    public static Chart? RateAndStabilisation(IReadOnlyList<ReleasedSiteCampaign> campaigns)
    {
        ChartPoint[] all =
        [
            .. campaigns.Where(c => c.IsUntreated && c.RateMeanPerDay > 0 && c.StabilisationMean is not null)
                .Select(c => new ChartPoint(c.StabilisationMean!.Value, c.RateMeanPerDay!.Value)),
        ];
        return all.Length < 3 ? null : new XyChart(
            "Decay rate k and stabilisation factor S of sites",
            $"Scatter of mean k against mean S of {all.Length} site campaigns.",
            new Axis("S (share of the hydrolysable fraction)"), new Axis("k (per day)") { IsLogarithmic = true },
            [new Points(Thin(all)) { Series = 0, Label = "site in one campaign" }])
        {
            Note = $"{all.Length} site campaigns of untreated plots. k and S are computed from the same weighings and so correlate by "
            + "construction: a pattern here is no finding."
        };
    }

    /// <summary>Scatter between the burials of a site against their mean k.</summary>
    public static Chart? ReplicateScatter(IReadOnlyList<ReleasedSiteCampaign> campaigns)
    {
        ReleasedSiteCampaign[] used = [.. campaigns.Where(c => c.LnRateBurials >= 3 && c.LnRateSd is not null)];
        if (used.Length < 3)
            return null;
        // pooled within sites: Σ (n - 1) s² / Σ (n - 1)
        double pooled =
            Math.Sqrt(used.Sum(c => (c.LnRateBurials - 1) * c.LnRateSd!.Value * c.LnRateSd.Value) / used.Sum(c => c.LnRateBurials - 1));
        return new XyChart(
            Invariant($"Burials of one site scatter about their mean by a factor of {Math.Exp(pooled):0.00}"),
            "Scatter of the standard deviation of ln k between burials against mean k, for "
                + Invariant($"{used.Length} site campaigns; pooled standard deviation {pooled:0.000}."),
            new Axis("mean k (per day)") { IsLogarithmic = true }, new Axis("standard deviation of ln k") { From = 0 },
            [
                new Points(Thin([.. used.Select(c => new ChartPoint(Math.Exp(c.LnRateMean!.Value), c.LnRateSd!.Value))])) { Series = 0,
                    Label = "site in one campaign" },
                new Rule(pooled) { Label = "pooled" },
            ])
        { Note = $"{used.Length} site campaigns with three burials or more; one standard deviation of ln k as a factor." };
    }

    private static ChartPoint[] Thin(ChartPoint[] points)
    {
        int step = 1 + (points.Length - 1) / MostPoints;
        return [.. points.Where((_, i) => i % step == 0)];
    }
}
