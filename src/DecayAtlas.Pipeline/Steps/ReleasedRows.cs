namespace DecayAtlas.Pipeline.Steps;

/// <summary>What the steps made of a contributor -> the rows that are released of it.</summary>
internal static class ReleasedRows
{
    /// <summary>Status of a covariate value that would give a sensitive place away.</summary>
    public const string Withheld = "withheld";

    public static ReleaseTables Of(
        IReadOnlyList<Contribution> contributions,
        IndexStep.Output index,
        SnapStep.Output snapped,
        FlagStep.Output flags,
        SummariseStep.Output summaries,
        IReadOnlyList<SiteCurve> curves,
        IReadOnlyList<Decision> decisions)
    {
        Dictionary<string, PublishedPlace> places = index.Sites.ToDictionary(s => s.Key, s => s.Place, StringComparer.Ordinal);
        ILookup<string, Burial> burials = index.Burials.ToLookup(b => b.Header.ContributionId, StringComparer.Ordinal);
        return new ReleaseTables
        {
            {
                AtlasTables.Contributions,
                [
                    .. contributions.Select(c => ReleasedContribution.Of(
                        c.Header, c.Sites.Count, c.Lots.Count, c.Bags.Count, burials[c.Header.ContributionId].Count(), c.Samples.Count)),
                ]
            },
            { AtlasTables.Sites, [.. index.Sites.Select(s => ReleasedSite.Of(s, flags.Verdicts.Of(s)))] },
            {
                AtlasTables.Lots,
                [
                    .. contributions.SelectMany(c => c.Lots.OrderBy(l => l.LotId, StringComparer.Ordinal)
                        .Select(l => ReleasedLot.Of(c.Header.ContributionId, l))),
                ]
            },
            { AtlasTables.Bags, [.. index.Bags.Select(b => ReleasedBag.Of(b, places[b.SiteKey], flags.Verdicts.Of(b)))] },
            { AtlasTables.Burials, [.. index.Burials.Select(b => ReleasedBurial.Of(b, places[b.SiteKey], flags.Verdicts.Of(b)))] },
            { AtlasTables.SiteCampaigns, [.. summaries.SiteCampaigns.Select(ReleasedSiteCampaign.Of)] },
            { AtlasTables.Plots, [.. summaries.Plots.Select(ReleasedPlot.Of)] },
            { AtlasTables.Curves, [.. curves.Select(ReleasedCurve.Of)] },
            {
                AtlasTables.Covariates,
                [.. snapped.Values.Select(v => places[v.SiteKey].IsSensitive ? Hide(v) : v).Select(ReleasedCovariate.Of)]
            },
            {
                AtlasTables.BurialCovariates,
                [
                    .. snapped.OfBurials.Select(v => places[v.Value.SiteKey].IsSensitive ? v with { Value = Hide(v.Value) } : v)
                        .Select(ReleasedBurialCovariate.Of),
                ]
            },
            {
                AtlasTables.CampaignCovariates,
                [.. CampaignCovariates.Of(index.Burials, snapped.OfBurials, flags.Verdicts, places).Select(ReleasedCampaignCovariate.Of)]
            },
            { AtlasTables.Flags, [.. flags.Flags.Select(ReleasedFlag.Of)] },
            { AtlasTables.Decisions, [.. decisions.Select(ReleasedDecision.Of)] },
            {
                AtlasTables.Samples,
                [
                    .. contributions.SelectMany(c => c.Samples.OrderBy(s => s.BagId, StringComparer.Ordinal)
                        .ThenBy(s => s.Accession, StringComparer.Ordinal).Select(s => ReleasedSample.Of(c.Header.ContributionId, s))),
                ]
            },
        };
    }

    // Several grids sampled at one point, each to full precision, single out the cell it lies in: nothing sampled there is released.
    private static CovariateValue Hide(CovariateValue value) => value with
    {
        Value = null,
        Label = null,
        StandardDeviation = null,
        ValidShare = null,
        CoveredShare = null,
        DistanceMetres = null,
        Rule = "",
        Layers = null,
        Status = Withheld,
    };
}
