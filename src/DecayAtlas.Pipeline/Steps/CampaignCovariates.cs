namespace DecayAtlas.Pipeline.Steps;

/// <summary>What burials felt -> what the bags of a site felt in a campaign, in the order of the site campaigns.</summary>
internal static class CampaignCovariates
{
    public static IReadOnlyList<CampaignCovariate> Of(
        IReadOnlyList<Burial> burials, IReadOnlyList<BurialCovariate> covariates, Verdicts verdicts,
        IReadOnlyDictionary<string, PublishedPlace> places)
    {
        ILookup<(string, string), CovariateValue> byBurial = covariates.ToLookup(f => (f.ContributionId, f.BurialId), f => f.Value);
        return
        [
            .. burials.GroupBy(b => (b.SiteKey, b.Header.Campaign, b.Lead.Row.Treatment))
                .OrderBy(g => g.Key.SiteKey, StringComparer.Ordinal).ThenBy(g => g.Key.Campaign, StringComparer.Ordinal)
                .ThenBy(g => g.Key.Treatment, StringComparer.Ordinal)
                .SelectMany(g => g.SelectMany(b => byBurial[(b.Header.ContributionId, b.BurialId)].Select(v => (Burial: b, Value: v)))
                    .GroupBy(x => x.Value.Covariate, StringComparer.Ordinal)
                    // of the burials whose ln k is averaged: the model sets what they felt against that mean
                    .Select(c => new CampaignCovariate(
                        g.Key.SiteKey, g.Key.Campaign, g.Key.Treatment, c.Key, c.First().Value.Unit,
                        places[g.Key.SiteKey].IsSensitive ? []
                        : [.. c.Where(x => verdicts.CountLnRate(x.Burial)).Select(x => x.Value.Value).OfType<double>()],
                        places[g.Key.SiteKey].IsSensitive))),
        ];
    }
}
