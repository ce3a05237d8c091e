namespace DecayAtlas.Pages.Reading;

/// <summary>A site of one contribution beside the sites of others.</summary>
/// <param name="RatePerDay">Geometric mean of k of the contribution's accepted, untreated burials there (d⁻¹).</param>
/// <param name="Stabilisation">Mean S of them.</param>
/// <param name="SlowerShare">Share of those whose rate is below this one's; missing where there are none.</param>
internal sealed record SiteResult(ReleasedSite Site, double? RatePerDay, double? Stabilisation, SimilarSites Beside, double? SlowerShare)
{
    /// <summary>Days in which half of what can decay of the slow litter is gone: ln 2 / k.</summary>
    public double? HalfTimeDays => RatePerDay is > 0 ? Math.Log(2) / RatePerDay : null;

    /// <summary>Burials that were dug there, and how many of them the rate rests on.</summary>
    public (int All, int Counted) Burials { get; init; }

    /// <summary>Whether k of an accepted burial is 0 or negative and none is above it: slower than can be weighed.</summary>
    public bool IsTooSlowToTell { get; init; }
}

/// <summary>What one contribution brought, and how it stands beside others.</summary>
internal sealed record GroupResult(
    ReleasedContribution Contribution, ReleasedBurial[] Burials, SiteResult[] Sites, ReleasedFlag[] Flags)
{
    /// <summary>Means that stand for burials.</summary>
    public ReleasedResult[] Results { get; init; } = [];

    public int Accepted => Burials.Count(b => b.IsAccepted);

    /// <summary>Rates of all sites that any of the contribution's are held against, each once.</summary>
    public IReadOnlyList<SiteRate> Others =>
        [.. Sites.Select(s => s.Beside).Distinct().SelectMany(b => b.Sites).DistinctBy(r => r.Site.SiteKey)
            .OrderBy(r => r.Site.SiteKey, StringComparer.Ordinal)];

    private readonly Dictionary<string, SimilarSites> _beside = Sites.ToDictionary(s => s.Site.SiteKey, s => s.Beside);

    public SimilarSites? BesideOf(string siteKey) => _beside.GetValueOrDefault(siteKey);

    public static GroupResult Of(ReleasedContribution contribution, ReleaseData data, SimilarClimate climate,
        ILookup<string, ReleasedBurial> burialsOf, ILookup<string, ReleasedFlag> flagsOf)
    {
        ReleasedBurial[] burials = [.. burialsOf[contribution.ContributionId]];
        SiteResult[] sites = [.. burials.GroupBy(b => b.SiteKey).Where(g => data.SiteByKey.ContainsKey(g.Key))
            .OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => ResultOf(data.SiteByKey[g.Key], g, climate))];
        return new GroupResult(contribution, burials, sites, [.. flagsOf[contribution.ContributionId]])
        {
            Results = [.. data.ResultsOfSite.SelectMany(r => r).Where(r => r.ContributionId == contribution.ContributionId)],
        };
    }

    private static SiteResult ResultOf(ReleasedSite site, IGrouping<string, ReleasedBurial> burials, SimilarClimate climate)
    {
        SiteRate own = SiteRate.Of(site, burials);
        SimilarSites beside = climate.Of(site);
        return new SiteResult(site, own.RatePerDay, own.Stabilisation, beside,
            own.RatePerDay is { } k && beside.Count > 0 ? beside.SlowerThan(k) / (double)beside.Count : null)
        {
            Burials = (burials.Count(), own.Burials),
            IsTooSlowToTell = own is { RatePerDay: null, NotPositive: > 0 },
        };
    }
}
