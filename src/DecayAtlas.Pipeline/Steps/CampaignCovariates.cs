namespace DecayAtlas.Pipeline.Steps;

/// <summary>What burials felt -> what the bags of a site felt in a campaign, in the order of the site campaigns.</summary>
internal static class CampaignCovariates
{
    public static IEnumerable<ReleasedCampaignCovariate> Of(
        IndexStep.Output index, SnapStep.Output snapped, Verdicts verdicts, IReadOnlyDictionary<string, PublishedPlace> places)
    {
        ILookup<(string, string), ReleasedCovariate> byBurial = LookupOf(snapped.OfBurials), byResult = LookupOf(snapped.OfResults);
        HashSet<SeriesKey> weighed = [.. index.Burials.Where(verdicts.CountLnRate).Select(SeriesKey.Of)];
        // of the burials whose ln k is averaged: the model sets what they felt against that mean; results stand where no burial does
        IEnumerable<(SeriesKey Series, bool IsAveraged, IEnumerable<ReleasedCovariate> Felt)> all =
            index.Burials.Select(b =>
                (SeriesKey.Of(b), verdicts.CountLnRate(b), byBurial[(b.Header.ContributionId, b.BurialId)]))
            .Concat(index.Results.Where(r => !weighed.Contains(SeriesKey.Of(r))).Select(r =>
                (SeriesKey.Of(r), verdicts.CountLnRate(r), byResult[(r.Header.ContributionId, r.Row.ResultId)])));
        return
            from series in all.GroupBy(x => x.Series).InOrder()
            from felt in series.SelectMany(x => x.Felt.Select(value => (x.IsAveraged, Value: value)))
                .GroupBy(x => x.Value.Covariate, StringComparer.Ordinal)
            select ReleasedCampaignCovariate.Of(
                series.Key.SiteKey, series.Key.Campaign, series.Key.Treatment, felt.Key, felt.First().Value.Unit,
                places[series.Key.SiteKey].IsSensitive ? null : [.. felt.Where(x => x.IsAveraged).Select(x => x.Value.Value)]);
    }

    private static ILookup<(string, string), ReleasedCovariate> LookupOf(IReadOnlyList<BurialCovariate> covariates) =>
        covariates.ToLookup(f => (f.ContributionId, f.BurialId), f => f.Value);
}
