namespace DecayAtlas.Questions.Series;

/// <summary>A quantity of the grid catalogue, as far as its values are to be told.</summary>
/// <param name="Over">What was taken over the days of an exposure; null where nothing was.</param>
public sealed record SeriesQuantity(string Name, string Title, TimeStatistic? Over)
{
    /// <summary>The quantities of a catalogue; classes have no place beside numbers.</summary>
    public static IReadOnlyList<SeriesQuantity> Of(IEnumerable<CatalogueEntry> catalogue) =>
        [.. catalogue.Where(e => !e.IsClass).Select(e => new SeriesQuantity(e.Name, e.Title, e.Made.TakenOverTime))];
}

/// <summary>One exposure: what remained of both litters after it. Either may be missing, not both.</summary>
public sealed record WeighedExposure(ReleasedBurial Burial, ReleasedBag? Fast, ReleasedBag? Slow);

/// <summary>
/// The exposures of a release, site by site, as a model of soil carbon is driven and judged by them: those that no flag rejects, that
/// have an end, and a remaining fraction of one litter at least. Of sensitive sites what the release tells.
/// </summary>
/// <param name="LeftOut">Exposures that would count, at sites without a published place.</param>
public sealed record ExposureSeries(
    IReadOnlyList<(ReleasedSite Site, IReadOnlyList<WeighedExposure> Exposures)> Sites, int LeftOut,
    IReadOnlyDictionary<(string ContributionId, string BurialId, string Covariate), ReleasedBurialCovariate> Felt,
    IReadOnlyDictionary<(string SiteKey, string Covariate), ReleasedCovariate> Places)
{
    public int Exposures => Sites.Sum(s => s.Exposures.Count);

    public static ExposureSeries Of(IReleasedRows release)
    {
        ArgumentNullException.ThrowIfNull(release);
        Dictionary<(string, string), ReleasedBag> bags = release.Each(AtlasTables.Bags).Where(b => b.RemainingFraction is not null)
            .ToDictionary(b => (b.ContributionId, b.BagId));
        ILookup<string, WeighedExposure> exposures = release.Each(AtlasTables.Burials)
            .Where(b => b.Use != AtlasCode.Of(Use.Rejected) && b.ExposureDays > 0)
            .Select(b => new WeighedExposure(b, BagOf(b, b.FastBagId), BagOf(b, b.SlowBagId)))
            .Where(e => e.Fast is not null || e.Slow is not null)
            .ToLookup(e => e.Burial.SiteKey, StringComparer.Ordinal);
        ReleasedSite[] sites = [.. release.Rows(AtlasTables.Sites)
            .Where(s => s is { LatitudeDegrees: not null, LongitudeDegrees: not null } && exposures.Contains(s.SiteKey))
            .OrderBy(s => s.SiteKey, StringComparer.Ordinal)];
        (ReleasedSite, IReadOnlyList<WeighedExposure>)[] all = [.. sites.Select(s => (s, Ordered(exposures[s.SiteKey])))];
        return new ExposureSeries(all, exposures.Sum(s => s.Count()) - all.Sum(s => s.Item2.Count),
            release.Rows(AtlasTables.BurialCovariates).ToDictionary(c => (c.ContributionId, c.BurialId, c.Covariate)),
            release.Rows(AtlasTables.Covariates).ToDictionary(c => (c.SiteKey, c.Covariate)));

        ReleasedBag? BagOf(ReleasedBurial burial, string? bag) =>
            bag is not null && bags.TryGetValue((burial.ContributionId, bag), out ReleasedBag? found) ? found : null;

        static IReadOnlyList<WeighedExposure> Ordered(IEnumerable<WeighedExposure> ofSite) =>
        [
            .. ofSite.OrderBy(e => e.Burial.RetrievedOn).ThenBy(e => e.Burial.BuriedOn)
                .ThenBy(e => e.Burial.ContributionId, StringComparer.Ordinal).ThenBy(e => e.Burial.BurialId, StringComparer.Ordinal),
        ];
    }
}
