namespace DecayAtlas.Pipeline.Contributors;

/// <summary>The little of a contribution that others need to know: its lots' chemistry and where its sites lie.</summary>
/// <param name="Places">Where each site lies, exact: the cache is as private as the intake.</param>
/// <param name="Exposures">The days that bags lay at each site, each once.</param>
internal sealed record ContributionOutline(
    IReadOnlyList<LotFraction> Lots, IReadOnlyList<SitePlace> Places, IReadOnlyList<SiteExposure> Exposures,
    IReadOnlyList<string> SensitiveSites)
{
    public static ContributionOutline Of(Contribution contribution) => new(
        [.. contribution.Lots.Select(l => new LotFraction(l.LotId, l.HydrolysableFraction))],
        [.. contribution.Sites
            .Select(s =>
                new SitePlace(s.SiteId,
                    new SnapPlace(new GeoPoint(s.DecimalLongitude, s.DecimalLatitude), s.CoordinateUncertaintyMetres)))],
        [.. contribution.Bags.Where(b => b.RetrievedOn > b.BuriedOn)
            .Select(b => new SiteExposure(b.SiteId, b.BuriedOn, b.RetrievedOn!.Value))
            .Concat(contribution.Results.Where(r => r.LastDay > r.BuriedOn)
                .Select(r => new SiteExposure(r.SiteId, r.BuriedOn, r.LastDay!.Value))).Distinct()
            .OrderBy(e => e.SiteId, StringComparer.Ordinal).ThenBy(e => e.BuriedOn).ThenBy(e => e.RetrievedOn)],
        [.. contribution.Sites.Where(s => s.CoordinatesSensitive == true).Select(s => s.SiteId).Order(StringComparer.Ordinal)]);
}

internal sealed record LotFraction(string LotId, double HydrolysableFraction);

internal sealed record SitePlace(string SiteId, SnapPlace Place);

internal sealed record SiteExposure(string SiteId, DateOnly BuriedOn, DateOnly RetrievedOn);
