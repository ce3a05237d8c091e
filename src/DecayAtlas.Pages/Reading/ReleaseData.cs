namespace DecayAtlas.Pages.Reading;

/// <summary>What the pages need of one release, in memory: some hundred bytes a bag.</summary>
public sealed class ReleaseData
{
    private readonly Dictionary<(string ContributionId, string BagId), string> _lotOfBag;
    private readonly Dictionary<(string ContributionId, string LotId), double?> _hydrolysableOfLot;
    private readonly Dictionary<(string ContributionId, string Kind, string Id), string> _siteOfRecord = [];
    private readonly Dictionary<string, string> _contributorOf;

    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static ReleaseData Read(ReleaseReader release) => new(
        release.ReleaseId, release.Rows(AtlasTables.Sites), release.Rows(AtlasTables.Burials), release.Rows(AtlasTables.Bags),
        release.Rows(AtlasTables.Covariates), release.Rows(AtlasTables.Contributions), release.Rows(AtlasTables.Flags),
        release.Rows(AtlasTables.Lots), release.Rows(AtlasTables.Results),
        release.Has(AtlasTables.SiteValues) ? release.Rows(AtlasTables.SiteValues) : []);

    public ReleaseData(
        string releaseId, IEnumerable<ReleasedSite> sites, IEnumerable<ReleasedBurial> burials, IEnumerable<ReleasedBag> bags,
        IEnumerable<ReleasedCovariate> covariates, IEnumerable<ReleasedContribution> contributions, IEnumerable<ReleasedFlag> flags,
        IEnumerable<ReleasedLot>? lots = null, IEnumerable<ReleasedResult>? results = null,
        IEnumerable<ReleasedSiteValue>? siteValues = null)
    {
        ReleaseId = releaseId;
        Sites = [.. sites.OrderBy(s => s.SiteKey, StringComparer.Ordinal)];
        Burials = [.. burials.OrderBy(b => b.ContributionId, StringComparer.Ordinal).ThenBy(b => b.BurialId, StringComparer.Ordinal)];
        Bags = [.. bags.OrderBy(b => b.ContributionId, StringComparer.Ordinal).ThenBy(b => b.BagId, StringComparer.Ordinal)];
        Covariates = [.. covariates.OrderBy(c => c.SiteKey, StringComparer.Ordinal).ThenBy(c => c.Covariate, StringComparer.Ordinal)];
        Contributions = [.. contributions.OrderBy(c => c.ContributionId, StringComparer.Ordinal)];
        SiteByKey = Sites.ToDictionary(s => s.SiteKey);
        Flags =
        [
            .. flags.OrderBy(f => f.ContributionId, StringComparer.Ordinal).ThenBy(f => f.Code, StringComparer.Ordinal)
                .ThenBy(f => f.RecordId, StringComparer.Ordinal).ThenBy(f => f.Explanation, StringComparer.Ordinal),
        ];

        BurialsOfSite = Burials.ToLookup(b => b.SiteKey);
        ReleasedResult[] means = [.. (results ?? []).OrderBy(r => r.ContributionId, StringComparer.Ordinal)
            .ThenBy(r => r.ResultId, StringComparer.Ordinal)];
        ResultsOfSite = means.ToLookup(r => r.SiteKey);
        ResultsOfContribution = means.ToLookup(r => r.ContributionId);
        foreach (ReleasedResult result in means)
            _siteOfRecord[(result.ContributionId, "result", result.ResultId)] = result.SiteKey;
        SiteValuesOfSite = (siteValues ?? []).Where(v => v.IsOfPlace).ToLookup(v => v.SiteKey!);
        BagsOfSite = Bags.ToLookup(b => b.SiteKey);
        CovariatesOfSite = Covariates.ToLookup(c => c.SiteKey);
        foreach (ReleasedBag bag in Bags)
            _siteOfRecord[(bag.ContributionId, "bag", bag.BagId)] = bag.SiteKey;
        foreach (ReleasedBurial burial in Burials)
            _siteOfRecord[(burial.ContributionId, "burial", burial.BurialId)] = burial.SiteKey;
        _contributorOf = Contributions.ToDictionary(c => c.ContributionId, c => c.ContributorId);
        FlagsOfSite = Flags.Where(f => SiteOf(f) is not null).ToLookup(f => SiteOf(f)!);
        BagsOfContribution = Bags.ToLookup(b => b.ContributionId);
        LotsOfContribution = (lots ?? []).ToLookup(l => l.ContributionId);
        _lotOfBag = Bags.Where(b => b.Role == "slow").ToDictionary(b => (b.ContributionId, b.BagId), b => b.LotId);
        _hydrolysableOfLot = (lots ?? []).ToDictionary(l => (l.ContributionId, l.LotId), l => l.HydrolysableFraction);
        Rates = Sites.ToDictionary(s => s.SiteKey, s => SiteRate.Of(s, BurialsOfSite[s.SiteKey], ResultsOfSite[s.SiteKey]));
    }

    public string ReleaseId { get; }

    /// <summary>Every site, in order of its key.</summary>
    public IReadOnlyList<ReleasedSite> Sites { get; }

    public IReadOnlyList<ReleasedBurial> Burials { get; }

    public IReadOnlyList<ReleasedBag> Bags { get; }

    public IReadOnlyList<ReleasedCovariate> Covariates { get; }

    public IReadOnlyList<ReleasedContribution> Contributions { get; }

    public IReadOnlyList<ReleasedFlag> Flags { get; }

    public IReadOnlyDictionary<string, ReleasedSite> SiteByKey { get; }

    public ILookup<string, ReleasedBurial> BurialsOfSite { get; }

    /// <summary>Means that stand for burials.</summary>
    public ILookup<string, ReleasedResult> ResultsOfSite { get; }

    public ILookup<string, ReleasedResult> ResultsOfContribution { get; }

    /// <summary>k and S of untreated plots with what other sites tell, by campaign.</summary>
    public ILookup<string, ReleasedSiteValue> SiteValuesOfSite { get; }

    public ILookup<string, ReleasedBag> BagsOfSite { get; }

    public ILookup<string, ReleasedBag> BagsOfContribution { get; }

    public ILookup<string, ReleasedLot> LotsOfContribution { get; }

    public ILookup<string, ReleasedCovariate> CovariatesOfSite { get; }

    public ILookup<string, ReleasedFlag> FlagsOfSite { get; }

    /// <summary>What each site's accepted, untreated burials say of it.</summary>
    public IReadOnlyDictionary<string, SiteRate> Rates { get; }

    /// <summary>The site that a flag bears on: its own, or that of its bag, burial or result; none for flags on lots and
    /// contributions.</summary>
    public string? SiteOf(ReleasedFlag flag)
    {
        if (flag.RecordKind != "site")
            return _siteOfRecord.GetValueOrDefault((flag.ContributionId, flag.RecordKind, flag.RecordId));
        string key = $"{_contributorOf.GetValueOrDefault(flag.ContributionId)}/{flag.RecordId}";
        return SiteByKey.ContainsKey(key) ? key : null;
    }

    /// <summary>Share of the slow litter of a burial that can decompose, a_s = H_s (1 - S); missing where S or H is.</summary>
    public double? DecomposableSlowOf(ReleasedBurial burial) =>
        burial is { Stabilisation: { } s, SlowBagId: { } bag }
        && _lotOfBag.TryGetValue((burial.ContributionId, bag), out string? lot)
            ? _hydrolysableOfLot.GetValueOrDefault((burial.ContributionId, lot)) * (1 - s)
            : null;

    /// <summary>A covariate of every site that has it; of none where no name is given.</summary>
    public IReadOnlyDictionary<string, double> Covariate(string? name) =>
        Covariates.Where(c => c.Covariate == name && c.Value is not null).ToDictionary(c => c.SiteKey, c => c.Value!.Value);

    /// <summary>Every site that has a rate and one of these values, in order of its key.</summary>
    internal IEnumerable<ResponsePoint> ResponsesTo(IReadOnlyDictionary<string, double> values) =>
        Rates.Values.Where(r => r.RatePerDay is not null && values.ContainsKey(r.Site.SiteKey))
            .Select(r => new ResponsePoint(values[r.Site.SiteKey], r.RatePerDay!.Value));
}
