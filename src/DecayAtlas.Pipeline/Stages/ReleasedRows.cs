using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Tables;
using DecayAtlas.Contributions;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>What the stages made of a contributor -> the rows that are released of it.</summary>
internal static class ReleasedRows
{
    /// <summary>Status of a covariate value that would give a sensitive place away.</summary>
    public const string Withheld = "withheld";

    public static ReleaseTables Of(
        IReadOnlyList<Contribution> contributions,
        IndexStage.Output index,
        SnapStage.Output snapped,
        FlagStage.Output flags,
        SummariseStage.Output summaries,
        IReadOnlyList<SiteCurve> curves,
        IReadOnlyList<Decision> decisions)
    {
        Dictionary<string, PublishedPlace> places = index.Sites.ToDictionary(s => s.Key, s => s.Place, StringComparer.Ordinal);
        ILookup<string, Burial> burials = index.Burials.ToLookup(b => b.Header.ContributionId, StringComparer.Ordinal);
        return new ReleaseTables(
            [.. contributions.Select(c => new ContributionRow(
                c.Header, c.Sites.Count, c.Lots.Count, c.Bags.Count, burials[c.Header.ContributionId].Count(), c.Samples.Count))],
            [.. index.Sites.Select(s => new Released<Site>(s, s.Place, flags.Verdicts.Of(s)))],
            [.. contributions.SelectMany(c => c.Lots.OrderBy(l => l.LotId, StringComparer.Ordinal).Select(l => new ReleasedLot(c.Header.ContributionId, l)))],
            [.. index.Bags.Select(b => new Released<Bag>(b, places[b.SiteKey], flags.Verdicts.Of(b)))],
            [.. index.Burials.Select(b => new Released<Burial>(b, places[b.SiteKey], flags.Verdicts.Of(b)))],
            [.. summaries.SiteCampaigns.Select(s => new Released<SiteCampaign>(s, places[s.SiteKey], Verdict.Accepted))],
            summaries.Plots,
            curves,
            [.. snapped.Values.Select(v => places[v.SiteKey].IsSensitive ? Hide(v) : v)],
            [.. snapped.OfBurials.Select(v => places[v.Value.SiteKey].IsSensitive ? v with { Value = Hide(v.Value) } : v)],
            CampaignCovariates.Of(index.Burials, snapped.OfBurials, flags.Verdicts, places),
            flags.Flags,
            decisions,
            [.. contributions.SelectMany(c => c.Samples.OrderBy(s => s.BagId, StringComparer.Ordinal).ThenBy(s => s.Accession, StringComparer.Ordinal)
                .Select(s => new ReleasedSample(c.Header.ContributionId, s)))]);
    }

    // Several grids sampled at one point, each to full precision, single out the cell it lies in: nothing sampled there is released.
    private static CovariateValue Hide(CovariateValue value) => value with
    {
        Value = null, Label = null, StandardDeviation = null, ValidShare = null, CoveredShare = null, DistanceMetres = null, Rule = "", Layers = null, Status = Withheld,
    };
}
