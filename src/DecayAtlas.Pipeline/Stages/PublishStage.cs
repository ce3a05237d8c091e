using System.Text.Json;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Tables;
using DecayAtlas.Atlas;
using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>Records, covariates, flags and summaries -> a release, unless nothing changed.</summary>
public static class PublishStage
{
    /// <summary>The release that is current now.</summary>
    public sealed record Output(ReleaseOutcome Release) : IStageOutput
    {
        public string Sentence => Release.IsNew
            ? $"release {Release.Id}"
            : $"nothing changed: release {Release.Id} stands, no release was written";
    }

    public static Output Run(
        PipelineConfiguration configuration,
        IngestStage.Output intake,
        IndexStage.Output index,
        SnapStage.Output snapped,
        FlagStage.Output flags,
        SummariseStage.Output summaries,
        Action<string, int, int>? progress)
    {
        IReadOnlyList<Contribution> contributions = intake.Contributions;
        Dictionary<string, PublishedPlace> places = index.Sites.ToDictionary(s => s.Key, s => s.Place, StringComparer.Ordinal);
        ILookup<string, Burial> burials = index.Burials.ToLookup(b => b.Header.ContributionId, StringComparer.Ordinal);
        var tables = new ReleaseTables(
            [.. contributions.Select(c => new ContributionRow(
                c.Header, c.Sites.Count, c.Lots.Count, c.Bags.Count, burials[c.Header.ContributionId].Count(), c.Samples.Count))],
            [.. index.Sites.Select(s => new Released<Site>(s, s.Place, flags.Verdicts.Of(s)))],
            [.. contributions.SelectMany(c => c.Lots.OrderBy(l => l.LotId, StringComparer.Ordinal).Select(l => new ReleasedLot(c.Header.ContributionId, l)))],
            [.. index.Bags.Select(b => new Released<Bag>(b, places[b.SiteKey], flags.Verdicts.Of(b)))],
            [.. index.Burials.Select(b => new Released<Burial>(b, places[b.SiteKey], flags.Verdicts.Of(b)))],
            [.. summaries.SiteCampaigns.Select(s => new Released<SiteCampaign>(s, places[s.SiteKey], Verdict.Accepted))],
            snapped.Values,
            flags.Flags,
            [.. contributions.SelectMany(c => c.Samples.OrderBy(s => s.BagId, StringComparer.Ordinal).ThenBy(s => s.Accession, StringComparer.Ordinal)
                .Select(s => new ReleasedSample(c.Header.ContributionId, s)))]);

        return new Output(new ReleaseWriter(new AtlasFolder(configuration.Atlas)).Publish(tables, Statement(configuration), progress));
    }

    /// <summary>Every setting that bears on a released number; paths do not.</summary>
    private static ReleaseStatement Statement(PipelineConfiguration configuration) => new(
        configuration.Title,
        configuration.Publisher,
        JsonSerializer.Serialize(new { configuration.Assumptions, configuration.Flags }, JsonText.Options),
        typeof(PublishStage).Assembly.GetName().Version!.ToString(3));
}
