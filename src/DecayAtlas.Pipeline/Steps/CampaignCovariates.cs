namespace DecayAtlas.Pipeline.Steps;

/// <summary>What burials felt -> what the bags of a site felt in a campaign, in the order of the site campaigns.</summary>
internal static class CampaignCovariates
{
    public static IEnumerable<ReleasedCampaignCovariate> Of(
        IReadOnlyList<Burial> burials, IReadOnlyList<BurialCovariate> covariates, Verdicts verdicts,
        IReadOnlyDictionary<string, PublishedPlace> places)
    {
        ILookup<(string, string), ReleasedCovariate> byBurial = covariates.ToLookup(f => (f.ContributionId, f.BurialId), f => f.Value);
        // of the burials whose ln k is averaged: the model sets what they felt against that mean
        return
            from series in burials.GroupBy(SeriesKey.Of).InOrder()
            from felt in series.SelectMany(b => byBurial[(b.Header.ContributionId, b.BurialId)].Select(v => (Burial: b, Value: v)))
                .GroupBy(x => x.Value.Covariate, StringComparer.Ordinal)
            select ReleasedCampaignCovariate.Of(
                series.Key.SiteKey, series.Key.Campaign, series.Key.Treatment, felt.Key, felt.First().Value.Unit,
                places[series.Key.SiteKey].IsSensitive ? null
                    : [.. felt.Where(x => verdicts.CountLnRate(x.Burial)).Select(x => x.Value.Value)]);
    }
}
