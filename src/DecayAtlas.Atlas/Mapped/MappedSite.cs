namespace DecayAtlas.Atlas.Mapped;

/// <summary>
/// k and S that a map shows of a site: those of its newest campaign, in untreated plots, from the best evidence there is, as
/// site_campaigns has them.
/// </summary>
[Table("mapped_sites", "k and S of each site in its newest campaign, for maps.")]
public sealed record MappedSite
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The newest campaign with accepted burials in untreated plots; k and S below are of it.")]
    public string? Campaign { get; init; }

    [Column("campaigns", "How many such campaigns there are.")]
    public int Campaigns { get; init; }

    [Column("evidence", "weighed, summarised or reported, as in site_campaigns.")]
    public string? Evidence { get; init; }

    [Column("k_burials", "Burials behind k.")]
    public int? RateBurials { get; init; }

    [Column("k_per_day", "Geometric mean of k.", "d-1")]
    public double? RatePerDay { get; init; }

    [Column("k_lower95_per_day", "Lower end of its 95 % interval.", "d-1")]
    public double? RateLower95PerDay { get; init; }

    [Column("k_upper95_per_day", "Upper end of that interval.", "d-1")]
    public double? RateUpper95PerDay { get; init; }

    [Column("s_burials", "Burials behind S.")]
    public int? StabilisationBurials { get; init; }

    [Column("s", "Mean S.", "1")]
    public double? Stabilisation { get; init; }

    [Column("s_lower95", "Lower end of its 95 % interval.", "1")]
    public double? StabilisationLower95 { get; init; }

    [Column("s_upper95", "Upper end of that interval.", "1")]
    public double? StabilisationUpper95 { get; init; }

    internal static Table<MappedSite> Table { get; } = new();

    /// <summary>Of every site that has such a campaign, by its key.</summary>
    public static IReadOnlyDictionary<string, MappedSite> Of(IEnumerable<ReleasedSiteCampaign> rows) => rows
        .Where(r => r.IsUntreated && (r.RateGeometricMeanPerDay is not null || r.StabilisationMean is not null))
        .GroupBy(r => r.SiteKey, StringComparer.Ordinal).ToDictionary(g => g.Key, Newest, StringComparer.Ordinal);

    private static MappedSite Newest(IEnumerable<ReleasedSiteCampaign> rows)
    {
        ReleasedSiteCampaign[] all = [.. rows];
        ReleasedSiteCampaign newest = all.OrderByDescending(r => r.LastRetrievedOn ?? DateOnly.MinValue)
            .ThenByDescending(r => r.Campaign, StringComparer.Ordinal).First();
        ReleasedSiteCampaign best = all.Where(r => r.Campaign == newest.Campaign)
            .OrderBy(r => Array.IndexOf(BestFirst, r.Evidence)).ThenByDescending(r => r.LnRateBurials)
            .ThenBy(r => r.Treatment, StringComparer.Ordinal).First();
        return new MappedSite
        {
            SiteKey = best.SiteKey,
            Campaign = best.Campaign,
            Campaigns = all.Select(r => r.Campaign).Distinct(StringComparer.Ordinal).Count(),
            Evidence = best.Evidence,
            RateBurials = best.LnRateBurials,
            RatePerDay = best.RateGeometricMeanPerDay,
            RateLower95PerDay = best.RateGeometricMeanLower95PerDay,
            RateUpper95PerDay = best.RateGeometricMeanUpper95PerDay,
            StabilisationBurials = best.StabilisationBurials,
            Stabilisation = best.StabilisationMean,
            StabilisationLower95 = best.StabilisationLower95,
            StabilisationUpper95 = best.StabilisationUpper95,
        };
    }

    private static readonly string[] BestFirst =
        [AtlasCode.Of(EvidenceKind.Weighed), AtlasCode.Of(EvidenceKind.Summarised), AtlasCode.Of(EvidenceKind.Reported)];
}
