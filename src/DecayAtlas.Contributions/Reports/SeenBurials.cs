namespace DecayAtlas.Contributions.Reports;

/// <summary>Where a group dug, as it says.</summary>
public sealed record SeenSite(
    string SiteId, double DecimalLatitude, double DecimalLongitude, string? CountryCode, string? Ecosystem, bool IsSensitive)
{
    /// <summary>What the group calls it.</summary>
    public required string Called { get; init; }
}

/// <summary>What one burial gives, or one row of means: k (d⁻¹) and S (1) with their 95 % intervals, or why there is none.</summary>
/// <param name="Id">Of the burial, or of the row of means.</param>
/// <param name="AtLeastPerDay">Where the slow litter is at its plateau.</param>
/// <param name="Burials">That it stands for; 1 for a burial.</param>
public sealed record SeenRate(
    string Id, string SiteId, string? Treatment, int Burials, double? ExposureDays, double? RatePerDay, double? RateLower95PerDay,
    double? RateUpper95PerDay, double? AtLeastPerDay, string? RateMissingBecause, double? Stabilisation, double? StabilisationLower95,
    double? StabilisationUpper95, string? StabilisationMissingBecause)
{
    /// <summary>What the group calls its place.</summary>
    public string? Called { get; init; }
}

/// <summary>What a contribution gives, computed at once, for its sender to look at.</summary>
public sealed record SeenBurials(IReadOnlyList<SeenSite> Sites, IReadOnlyList<SeenRate> Rates)
{
    // of the normal distribution (JCGM 100:2008, table G.1)
    private const double Coverage95 = 1.959964;

    /// <param name="tables">The rows without findings.</param>
    /// <param name="burials">What their burials give.</param>
    public static SeenBurials Of(ContributionTables tables, IReadOnlyList<CheckedBurial> burials)
    {
        IReadOnlyDictionary<string, string> names = tables.SiteNames();
        Dictionary<string, LotRow> lots = tables.Lots.ToDictionary(row => row.LotId);
        return new SeenBurials(
            [.. tables.Sites.Select(s => new SeenSite(s.SiteId, s.DecimalLatitude, s.DecimalLongitude, s.CountryCode, s.Ecosystem,
                s.CoordinatesSensitive == true)
            { Called = s.SiteName ?? s.SiteId })],
            [
                .. burials.Select(Of).Concat(tables.Results.Select(row => Of(row, Lot(row.FastLotId), Lot(row.SlowLotId))))
                    .Select(rate => rate with { Called = names.GetValueOrDefault(rate.SiteId, rate.SiteId) }),
            ]);

        LotRow? Lot(string? id) => id is null ? null : lots.GetValueOrDefault(id);
    }

    private static SeenRate Of(CheckedBurial b) => new(
        b.BurialId, b.SiteId, b.Treatment, 1, b.ExposureDays, b.RatePerDay, b.RateLower95PerDay, b.RateUpper95PerDay, b.RateAtLeastPerDay,
        b.RateMissingBecause, b.Stabilisation, b.Stabilisation - Coverage95 * b.StabilisationUncertainty,
        b.Stabilisation + Coverage95 * b.StabilisationUncertainty, b.StabilisationMissingBecause);

    private static SeenRate Of(ResultRow row, LotRow? fast, LotRow? slow)
    {
        MeanIndex index = row.Index(fast, slow, MeasurementAssumptions.Default);
        MeanWithErrors? rate = index.LnRate.Value, s = index.Stabilisation.Value;
        // a mean whose scatter nobody sent has no interval
        double? wide = rate?.ReplicateUncertainty is null ? null : Coverage95 * rate.Uncertainty,
            wideS = s?.ReplicateUncertainty is null ? null : Coverage95 * s.Uncertainty;
        return new SeenRate(row.ResultId, row.SiteId, row.Treatment, row.Burials, row.Exposure, Exp(rate?.Mean), Exp(rate?.Mean - wide),
            Exp(rate?.Mean + wide), null, index.LnRate.Reason?.Code(), s?.Mean, s?.Mean - wideS, s?.Mean + wideS,
            index.Stabilisation.Reason?.Code());

        static double? Exp(double? x) => x is { } known ? Math.Exp(known) : null;
    }
}
