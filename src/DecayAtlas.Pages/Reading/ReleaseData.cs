namespace DecayAtlas.Pages.Reading;

/// <summary>What the pages need of one release, in memory: some hundred bytes a bag.</summary>
public sealed class ReleaseData
{
    public ReleaseData(
        string releaseId, IEnumerable<SiteFacts> sites, IEnumerable<BurialFacts> burials, IEnumerable<BagFacts> bags,
        IEnumerable<CovariateFacts> covariates, IEnumerable<ContributionFacts> contributions, IEnumerable<FlagFacts> flags)
    {
        ReleaseId = releaseId;
        Sites = [.. sites.OrderBy(s => s.Key, StringComparer.Ordinal)];
        Burials = [.. burials.OrderBy(b => b.ContributionId, StringComparer.Ordinal).ThenBy(b => b.BurialId, StringComparer.Ordinal)];
        Bags = [.. bags.OrderBy(b => b.ContributionId, StringComparer.Ordinal).ThenBy(b => b.BagId, StringComparer.Ordinal)];
        Covariates = [.. covariates.OrderBy(c => c.SiteKey, StringComparer.Ordinal).ThenBy(c => c.Name, StringComparer.Ordinal)];
        Contributions = [.. contributions.OrderBy(c => c.Id, StringComparer.Ordinal)];
        SiteByKey = Sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        Flags =
        [
            .. FlagSites.Of(flags, this).OrderBy(f => f.ContributionId, StringComparer.Ordinal).ThenBy(f => f.Code, StringComparer.Ordinal)
                .ThenBy(f => f.RecordId, StringComparer.Ordinal).ThenBy(f => f.Explanation, StringComparer.Ordinal),
        ];

        BurialsOfSite = Burials.ToLookup(b => b.SiteKey, StringComparer.Ordinal);
        BagsOfSite = Bags.ToLookup(b => b.SiteKey, StringComparer.Ordinal);
        CovariatesOfSite = Covariates.ToLookup(c => c.SiteKey, StringComparer.Ordinal);
        FlagsOfSite = Flags.Where(f => f.SiteKey is not null).ToLookup(f => f.SiteKey!, StringComparer.Ordinal);
        Rates = Sites.Select(s => SiteRate.Of(s, BurialsOfSite[s.Key])).ToDictionary(r => r.Site.Key, StringComparer.Ordinal);
    }

    public string ReleaseId { get; }

    /// <summary>Every site, in order of its key.</summary>
    public IReadOnlyList<SiteFacts> Sites { get; }

    public IReadOnlyList<BurialFacts> Burials { get; }

    public IReadOnlyList<BagFacts> Bags { get; }

    public IReadOnlyList<CovariateFacts> Covariates { get; }

    public IReadOnlyList<ContributionFacts> Contributions { get; }

    public IReadOnlyList<FlagFacts> Flags { get; }

    public IReadOnlyDictionary<string, SiteFacts> SiteByKey { get; }

    public ILookup<string, BurialFacts> BurialsOfSite { get; }

    public ILookup<string, BagFacts> BagsOfSite { get; }

    public ILookup<string, CovariateFacts> CovariatesOfSite { get; }

    public ILookup<string, FlagFacts> FlagsOfSite { get; }

    /// <summary>What each site's accepted, untreated burials say of it.</summary>
    public IReadOnlyDictionary<string, SiteRate> Rates { get; }

    /// <summary>A covariate of every site that has it.</summary>
    public IReadOnlyDictionary<string, double> Covariate(string name) =>
        Covariates.Where(c => c.Name == name && c.Value is not null).ToDictionary(c => c.SiteKey, c => c.Value!.Value, StringComparer.Ordinal);
}

/// <summary>Which site a flag bears on: its own, or that of its bag or burial; none for flags on lots and contributions.</summary>
internal static class FlagSites
{
    public static IEnumerable<FlagFacts> Of(IEnumerable<FlagFacts> flags, ReleaseData data)
    {
        var siteOf = new Dictionary<(string, string, string), string>();
        foreach (BagFacts bag in data.Bags)
            siteOf[(bag.ContributionId, "bag", bag.BagId)] = bag.SiteKey;
        foreach (BurialFacts burial in data.Burials)
            siteOf[(burial.ContributionId, "burial", burial.BurialId)] = burial.SiteKey;
        Dictionary<string, string> contributorOf = data.Contributions.ToDictionary(c => c.Id, c => c.ContributorId, StringComparer.Ordinal);
        return flags.Select(f => f with
        {
            SiteKey = f.RecordKind != "site"
                ? siteOf.GetValueOrDefault((f.ContributionId, f.RecordKind, f.RecordId))
                : contributorOf.TryGetValue(f.ContributionId, out string? contributor) && data.SiteByKey.ContainsKey($"{contributor}/{f.RecordId}") ? $"{contributor}/{f.RecordId}" : null,
        });
    }
}
