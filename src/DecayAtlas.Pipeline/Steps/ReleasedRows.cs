namespace DecayAtlas.Pipeline.Steps;

/// <summary>What the steps made of a contributor -> the rows that are released of it.</summary>
internal static class ReleasedRows
{
    public static ContributorRows Of(
        string contributorId, IReadOnlyList<Contribution> contributions, IndexStep.Output index, SnapStep.Output snapped,
        FlagStep.Output flags, SummariseStep.Output summaries, IReadOnlyList<ReleasedCurve> curves, IReadOnlyList<Decision> decisions)
    {
        Dictionary<string, PublishedPlace> places = index.Sites.ToDictionary(s => s.Key, s => s.Place, StringComparer.Ordinal);
        ILookup<string, Burial> burials = index.Burials.ToLookup(b => b.Header.ContributionId, StringComparer.Ordinal);
        return new ContributorRows(contributorId)
        {
            {
                AtlasTables.Contributions,
                contributions.Select(c => ReleasedContribution.Of(
                    c.Header, c.Sites.Count, c.Lots.Count, c.Bags.Count, burials[c.Header.ContributionId].Count(), c.Samples.Count))
            },
            { AtlasTables.Sites, index.Sites.Select(s => ReleasedSite.Of(s, flags.Verdicts.Of(s))) },
            {
                AtlasTables.Lots,
                contributions.SelectMany(c => c.Lots.OrderBy(l => l.LotId, StringComparer.Ordinal)
                    .Select(l => ReleasedLot.Of(c.Header.ContributionId, l)))
            },
            { AtlasTables.Bags, index.Bags.Select(b => ReleasedBag.Of(b, places[b.SiteKey], flags.Verdicts.Of(b))) },
            { AtlasTables.Burials, index.Burials.Select(b => ReleasedBurial.Of(b, places[b.SiteKey], flags.Verdicts.Of(b))) },
            { AtlasTables.Results, index.Results.Select(r => ReleasedResult.Of(r, flags.Verdicts.Of(r))) },
            { AtlasTables.SiteCampaigns, summaries.SiteCampaigns.Select(ReleasedSiteCampaign.Of) },
            { AtlasTables.Plots, summaries.Plots },
            { AtlasTables.SharedErrors, summaries.SharedErrors },
            { AtlasTables.Curves, curves },
            { AtlasTables.Covariates, snapped.Values.Select(Public) },
            {
                AtlasTables.BurialCovariates,
                snapped.OfBurials.Select(f => ReleasedBurialCovariate.Of(f.ContributionId, f.BurialId, Public(f.Value)))
            },
            {
                AtlasTables.CampaignCovariates,
                CampaignCovariates.Of(index, snapped, flags.Verdicts, places)
            },
            { AtlasTables.Flags, flags.Flags.Select(ReleasedFlag.Of) },
            { AtlasTables.Decisions, decisions.Select(ReleasedDecision.Of) },
            { AtlasTables.Samples, SamplesOf(contributions, index, flags.Verdicts) },
        };

        ReleasedCovariate Public(ReleasedCovariate value) => places[value.SiteKey].IsSensitive ? value.Withheld() : value;
    }

    /// <summary>Every sample beside its bag and what its burial gives, in key order.</summary>
    internal static IReadOnlyList<ReleasedSample> SamplesOf(
        IReadOnlyList<Contribution> contributions, IndexStep.Output index, Verdicts verdicts)
    {
        // few contributors send any
        if (contributions.All(c => c.Samples.Count == 0))
            return [];
        Dictionary<RecordKey, Bag> bags = index.Bags.ToDictionary(b => b.Key);
        Dictionary<RecordKey, Burial> burials = index.Burials.ToDictionary(b => b.Key);
        Dictionary<string, Site> sites = index.Sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        return
        [
            .. contributions.SelectMany(c => c.Samples.OrderBy(s => s.SampleId, StringComparer.Ordinal).Select(sample =>
            {
                Bag bag = bags[new RecordKey(c.Header.ContributionId, RecordKind.Bag, sample.BagId)];
                Burial burial = burials[new RecordKey(c.Header.ContributionId, RecordKind.Burial, bag.Row.BurialId)];
                return ReleasedSample.Of(sample, bag, burial, sites[bag.SiteKey], verdicts.Of(burial));
            })),
        ];
    }
}
