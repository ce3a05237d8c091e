namespace DecayAtlas.Pipeline.Steps;

/// <summary>Accepted burials and results -> one summary a site, campaign, treatment and kind of evidence, and one a plot.</summary>
public static class SummariseStep
{
    /// <summary>The summaries, by site and campaign.</summary>
    public sealed record Output(
        IReadOnlyList<SiteCampaign> SiteCampaigns, IReadOnlyList<ReleasedPlot> Plots, IReadOnlyList<ReleasedSharedError> SharedErrors);

    /// <param name="results">Means that stand for burials; each kind of evidence has summaries of its own.</param>
    public static Output Run(IReadOnlyList<Burial> burials, Verdicts verdicts, IReadOnlyList<SentResult>? results = null)
    {
        SiteCampaign[] ofResults =
        [
            .. (results ?? []).GroupBy(r => (Series: SeriesKey.Of(r), r.Row.Evidence)).Select(g => OfResults(
                g.Key.Series, g.Key.Evidence, [.. g], [.. g.Where(r => verdicts.Of(r).Use == Use.Accepted)],
                reason => g.Where(r => r.Index.LnRate.Reason == reason && verdicts.Of(r).Use != Use.Rejected).Sum(r => r.Row.Burials)) with
            {
                BurialsNotAtPlateau = g.Where(r => verdicts.Of(r).Because == SeriesUse.PlateauNotReached).Sum(r => r.Row.Burials),
            }),
        ];
        PlotRows plots = PlotRows.Of(burials, results ?? [], verdicts);
        return new Output(
            [
                .. burials
                    .GroupBy(SeriesKey.Of)
                    .Select(g => Of(
                        g.Key, [.. g], [.. g.Where(b => verdicts.Of(b).Use == Use.Accepted)],
                        g.Count(b => b.IsAtPlateau && verdicts.Of(b).Use != Use.Rejected)) with
                    {
                        BurialsNotAtPlateau = g.Count(b => verdicts.Of(b).Because == SeriesUse.PlateauNotReached),
                    })
                    .Concat(ofResults)
                    .GroupBy(s => new SeriesKey(s.SiteKey, s.Campaign, s.Treatment)).InOrder()
                    .SelectMany(g => g.OrderBy(s => s.Evidence)),
            ],
            plots.Plots, plots.SharedErrors);
    }

    private static SiteCampaign OfResults(
        SeriesKey series, EvidenceKind evidence, SentResult[] all, SentResult[] accepted, Func<MissingReason, int> burialsWithout)
    {
        PooledMeans? rate = Pooled(r => r.Index.RatePerDay), lnRate = Pooled(r => r.Index.LnRate), s = Pooled(r => r.Index.Stabilisation);
        return new SiteCampaign(
            series.SiteKey, series.Campaign, series.Treatment, all.Sum(r => r.Row.Burials),
            accepted.Min<SentResult, DateOnly?>(r => r.Row.BuriedOn), accepted.Max(r => r.Row.LastDay),
            rate?.Summary, rate?.Shared, burialsWithout(MissingReason.SlowLossAtPlateau),
            lnRate?.Summary, lnRate?.Interval(), s?.Summary, s?.Interval(), s?.Shared)
        {
            Evidence = evidence,
            BurialsOfMeansNotPositive = burialsWithout(MissingReason.MeanRateNotPositive),
            ContributionId = (accepted.Length > 0 ? accepted : all)[0].Header.ContributionId,
        };

        PooledMeans? Pooled(Func<SentResult, Computed<MeanWithErrors>> value) =>
            PooledMeans.Of([.. accepted.Where(r => value(r).Value is not null).Select(r => (value(r).Value!, r.Shared))]);
    }

    private static SiteCampaign Of(SeriesKey series, Burial[] all, Burial[] accepted, int atPlateau)
    {
        Burial[] withRate = [.. accepted.Where(b => b.RatePerDay.Value is not null)];
        Burial[] withS = [.. accepted.Where(b => b.StabilisationFactor.Value is not null)];
        double[] rates = [.. withRate.Select(b => b.RatePerDay.Value!.Value)];
        return new SiteCampaign(
            series.SiteKey,
            series.Campaign,
            series.Treatment,
            all.Length,
            accepted.Length == 0 ? null : accepted.Min<Burial, DateOnly>(b => b.BuriedOn),
            accepted.Max<Burial, DateOnly?>(b => b.RetrievedOn),
            SampleSummary.Of(rates),
            SharedPartOf(withRate, b => b.RatePerDay.Value!.Shared),
            atPlateau,
            SampleSummary.Of([.. rates.Where(k => k > 0).Select(k => Math.Log(k))]),
            SiteInterval.Of(RatedBurial.LogRates([.. withRate.Where(b => b.HasPositiveRate).Select(b => b.Rated)])).Value,
            SampleSummary.Of([.. withS.Select(b => b.StabilisationFactor.Value!.Value)]),
            SiteInterval.Of([.. withS.Select(b => SiteBurial.Of(b.StabilisationFactor.Value!, b.Shared, b.Lead.Row.Plot))]).Value,
            SharedPartOf(withS, b => b.StabilisationFactor.Value!.Shared))
        {
            ContributionId = (accepted.Length > 0 ? accepted : all)[0].Header.ContributionId,
        };
    }

    private static SharedUncertainty? SharedPartOf(Burial[] burials, Func<Burial, SharedErrors> errors) =>
        burials.Length == 0 ? null : SharedUncertainty.OfMean([.. burials.Select(b => new SharedPart(b.Shared, errors(b)))]);
}
