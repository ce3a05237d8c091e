namespace DecayAtlas.Pages.Contributed;

/// <summary>A site of one contribution beside the sites of others.</summary>
/// <param name="RatePerDay">Geometric mean of k of the contribution's accepted, untreated burials there (d⁻¹), or of those that its means
/// stand for.</param>
/// <param name="Stabilisation">Mean S of them.</param>
/// <param name="SlowerShare">Share of those whose rate is below this one's; missing where there are none.</param>
internal sealed record SiteResult(ReleasedSite Site, double? RatePerDay, double? Stabilisation, SimilarSites Beside, double? SlowerShare)
{
    /// <summary>Days in which half of what can decay of the slow litter is gone: ln 2 / k.</summary>
    public double? HalfTimeDays => RatePerDay is > 0 ? Math.Log(2) / RatePerDay : null;

    /// <summary>Burials that were dug there, how many of them lay in treated plots, and how many the rate rests on.</summary>
    public (int All, int Treated, int Counted) Burials { get; init; }

    /// <summary>Those that could say what the rate of the place is.</summary>
    public int Untreated => Burials.All - Burials.Treated;

    /// <summary>Whether k of an accepted burial is 0 or negative and none is above it: slower than can be weighed.</summary>
    public bool IsTooSlowToTell { get; init; }

    /// <summary>What each of the group's own burials there tells of its rate. What all bags of a group share, its lots and batches, moves
    /// all its places alike.</summary>
    public IReadOnlyList<HoleRate> Holes { get; init; } = [];

    /// <summary>k with what other sites of its kind tell, in the campaign of the contribution.</summary>
    public ReleasedSiteValue? Borrowed { get; init; }
}

/// <summary>What one contribution brought, and how it stands beside others.</summary>
internal sealed record GroupResult(
    ReleasedContribution Contribution, ReleasedBurial[] Burials, ReleasedResult[] Results, SiteResult[] Sites, ReleasedFlag[] Flags)
{
    private const string Lost = "bag-lost";

    /// <summary>How many of its burials give a result that counts.</summary>
    public int Counted => Burials.Count(b => b.GivesResult);

    /// <summary>Rates of all sites that any of the contribution's are held against, each once.</summary>
    public IReadOnlyList<SiteRate> Others =>
        [.. Sites.Select(s => s.Beside).Distinct().SelectMany(b => b.Sites).DistinctBy(r => r.Site.SiteKey)
            .OrderBy(r => r.Site.SiteKey, StringComparer.Ordinal)];

    private readonly Dictionary<string, SimilarSites> _beside = Sites.ToDictionary(s => s.Site.SiteKey, s => s.Beside);

    public SimilarSites? BesideOf(string siteKey) => _beside.GetValueOrDefault(siteKey);

    /// <summary>Why a burial gives no number: where a mass or day is missing because the bag was lost, that.</summary>
    /// <param name="reason">As released.</param>
    public string? Because(ReleasedBurial burial, string? reason) =>
        reason is "mass-not-reported" or "retrieval-not-reported" && Flags.Any(f =>
            f is { Code: Lost, RecordKind: "bag" } && (f.RecordId == burial.FastBagId || f.RecordId == burial.SlowBagId)) ? Lost : reason;

    public static GroupResult Of(ReleasedContribution contribution, ReleaseData data, SimilarClimate climate,
        ILookup<string, ReleasedBurial> burialsOf, ILookup<string, ReleasedFlag> flagsOf)
    {
        ReleasedBurial[] burials = [.. burialsOf[contribution.ContributionId]];
        ReleasedResult[] results = [.. data.ResultsOfContribution[contribution.ContributionId]];
        ILookup<string, ReleasedBurial> burialsAt = burials.ToLookup(b => b.SiteKey);
        ILookup<string, ReleasedResult> resultsAt = results.ToLookup(r => r.SiteKey);
        SiteResult[] sites = [.. burialsAt.Select(g => g.Key).Union(resultsAt.Select(g => g.Key)).Where(data.SiteByKey.ContainsKey)
            .Order(StringComparer.Ordinal)
            .Select(s => ResultOf(SiteRate.Of(data.SiteByKey[s], burialsAt[s], resultsAt[s]), [.. burialsAt[s]], climate) with
            {
                Borrowed = data.SiteValuesOfSite[s].FirstOrDefault(v => v.RatePerDay is not null && v.Campaign == contribution.Campaign),
            })];
        return new GroupResult(contribution, burials, results, sites, [.. GroupFlags.Bearing(contribution.ContributionId,
            flagsOf[contribution.ContributionId], sites.SelectMany(s => data.FlagsOfSite[s.Site.SiteKey]))]);
    }

    private static SiteResult ResultOf(SiteRate own, ReleasedBurial[] burials, SimilarClimate climate)
    {
        SimilarSites beside = climate.Of(own.Site);
        return new SiteResult(own.Site, own.RatePerDay, own.Stabilisation, beside,
            own.RatePerDay is { } k && beside.Count > 0 ? beside.SlowerThan(k) / (double)beside.Count : null)
        {
            Holes = [.. burials.Where(b => b.CountsForPlace).Select(b => new HoleRate(
                Math.Log(b.RatePerDay!.Value), (b.RateUncertaintyBagPerDay ?? 0) / b.RatePerDay.Value))],
            Burials = (burials.Length, burials.Count(b => !b.IsUntreated), own.Burials),
            IsTooSlowToTell = own is { RatePerDay: null, NotPositive: > 0 },
        };
    }
}
