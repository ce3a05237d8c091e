namespace DecayAtlas.Pipeline.Steps;

/// <summary>Accepted burials -> one summary a site, campaign and treatment, and one a plot.</summary>
public static class SummariseStep
{
    /// <summary>The summaries, by site and campaign.</summary>
    public sealed record Output(IReadOnlyList<SiteCampaign> SiteCampaigns, IReadOnlyList<ReleasedPlot> Plots);

    public static Output Run(IReadOnlyList<Burial> burials, Verdicts verdicts) => new(
    [
        .. burials
            .GroupBy(SeriesKey.Of).InOrder()
            .Select(g => Of(
                g.Key, g.Count(), [.. g.Where(b => verdicts.Of(b).Use == Use.Accepted)],
                g.Count(b => b.IsAtPlateau && verdicts.Of(b).Use != Use.Rejected))),
    ],
    [
        .. burials
            .Where(verdicts.CountLnRate)
            .GroupBy(b => (b.SiteKey, b.Header.Campaign, b.Lead.Row.Treatment, b.Lead.Row.Plot))
            .OrderBy(g => g.Key.SiteKey, StringComparer.Ordinal).ThenBy(g => g.Key.Campaign, StringComparer.Ordinal)
            .ThenBy(g => g.Key.Treatment, StringComparer.Ordinal).ThenBy(g => g.Key.Plot, StringComparer.Ordinal)
            .Select(g => ReleasedPlot.Of(
                g.Key.SiteKey, g.Key.Campaign, g.Key.Treatment, g.Key.Plot,
                SampleSummary.Of([.. g.Select(b => Math.Log(b.RatePerDay.Value!.Value))])!)),
    ]);

    private static SiteCampaign Of(SeriesKey series, int burials, Burial[] accepted, int atPlateau)
    {
        Burial[] withRate = [.. accepted.Where(b => b.RatePerDay.Value is not null)];
        Burial[] withS = [.. accepted.Where(b => b.StabilisationFactor.Value is not null)];
        double[] rates = [.. withRate.Select(b => b.RatePerDay.Value!.Value)];
        return new SiteCampaign(
            series.SiteKey,
            series.Campaign,
            series.Treatment,
            burials,
            accepted.Length == 0 ? null : accepted.Min<Burial, DateOnly>(b => b.BuriedOn),
            accepted.Max<Burial, DateOnly?>(b => b.RetrievedOn),
            SampleSummary.Of(rates),
            SharedPartOf(withRate, b => b.RatePerDay.Value!.Shared),
            atPlateau,
            SampleSummary.Of([.. rates.Where(k => k > 0).Select(k => Math.Log(k))]),
            SiteInterval.Of(RatedBurial.LogRates([.. withRate.Where(b => b.HasPositiveRate).Select(b => b.Rated)])).Value,
            SampleSummary.Of([.. withS.Select(b => b.StabilisationFactor.Value!.Value)]),
            SharedPartOf(withS, b => b.StabilisationFactor.Value!.Shared));
    }

    private static SharedUncertainty? SharedPartOf(Burial[] burials, Func<Burial, SharedErrors> errors) =>
        burials.Length == 0 ? null : SharedUncertainty.OfMean([.. burials.Select(b => new SharedPart(b.Shared, errors(b)))]);
}
