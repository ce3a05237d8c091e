namespace DecayAtlas.Demo.Faults;

/// <summary>
/// The sound contributions while faults are being planted: hands out burials and sites that are still sound, at most
/// one fault a site and contribution, and keeps the list of what was done.
/// </summary>
internal sealed class FaultPlot
{
    private readonly HashSet<(string Contribution, string Site)> _taken = [];
    private readonly List<(ContributionDraft Contribution, BurialDraft Burial)> _burials;
    private readonly List<(ContributionDraft Contribution, SiteDraft Site)> _sites;

    public FaultPlot(IReadOnlyList<ContributionDraft> contributions, Random random)
    {
        Contributions = contributions;
        _burials = [.. contributions.SelectMany(contribution => contribution.Burials.Select(burial => (contribution, burial)))];
        _sites = [.. contributions.SelectMany(contribution => contribution.Sites.Select(site => (contribution, site)))];
        Shuffle(_burials, random);
        Shuffle(_sites, random);
    }

    public IReadOnlyList<ContributionDraft> Contributions { get; }

    public List<PlantedFault> Faults { get; } = [];

    /// <summary>Takes the next burial that fits and lies on a site without any fault in this contribution.</summary>
    public (ContributionDraft Contribution, BurialDraft Burial) TakeBurial(Func<ContributionDraft, BurialDraft, bool> fits) =>
        TakeBurialIfAny(fits) ?? throw new InvalidOperationException("The scenario has no burial left for a fault that was to be planted.");

    /// <summary>The same, or nothing where none fits.</summary>
    public (ContributionDraft Contribution, BurialDraft Burial)? TakeBurialIfAny(Func<ContributionDraft, BurialDraft, bool> fits)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            _burials.Find(pair => !_taken.Contains((pair.Contribution.Id, pair.Burial.SiteId)) && fits(pair.Contribution, pair.Burial));
        if (burial is null) return null;
        _taken.Add((contribution.Id, burial.SiteId));
        return (contribution, burial);
    }

    public (ContributionDraft Contribution, BurialDraft Burial) TakeBurial() => TakeBurial((_, _) => true);

    /// <summary>Takes the next site that fits, with no fault on it yet.</summary>
    public (ContributionDraft Contribution, SiteDraft Site) TakeSite(Func<ContributionDraft, SiteDraft, bool> fits) =>
        TakeSiteIfAny(fits) ?? throw new InvalidOperationException("The scenario has no site left for a fault that was to be planted.");

    /// <summary>The same, or nothing where none fits.</summary>
    public (ContributionDraft Contribution, SiteDraft Site)? TakeSiteIfAny(Func<ContributionDraft, SiteDraft, bool> fits)
    {
        (ContributionDraft contribution, SiteDraft site) =
            _sites.Find(pair => !_taken.Contains((pair.Contribution.Id, pair.Site.SiteId)) && fits(pair.Contribution, pair.Site));
        if (site is null) return null;
        _taken.Add((contribution.Id, site.SiteId));
        return (contribution, site);
    }

    /// <summary>Marks a site of a contribution as no longer free for faults.</summary>
    public void Reserve(ContributionDraft contribution, string siteId) => _taken.Add((contribution.Id, siteId));

    public void Bag(ContributionDraft contribution, BagDraft bag, string code, string what, string? followsFrom = null) =>
        Faults.Add(new PlantedFault(contribution.Id, "bag", bag.BagId, code, what) { FollowsFrom = followsFrom });

    public void Bags(ContributionDraft contribution, BurialDraft burial, string code, string what, string? followsFrom = null)
    {
        foreach (BagDraft bag in burial.Bags) Bag(contribution, bag, code, what, followsFrom);
    }

    public void Burial(
        ContributionDraft contribution, BurialDraft burial, string code, string what, string? followsFrom = null, double? size = null,
        string? sizeOf = null) =>
        Faults.Add(
            new PlantedFault(contribution.Id, "burial", burial.BurialId, code, what)
            {
                FollowsFrom = followsFrom,
                Size = size,
                SizeOf = sizeOf
            });

    public void Site(
        ContributionDraft contribution, SiteDraft site, string code, string what, string? followsFrom = null, double? size = null,
        string? sizeOf = null) =>
        Faults.Add(
            new PlantedFault(contribution.Id, "site", site.SiteId, code, what) { FollowsFrom = followsFrom, Size = size, SizeOf = sizeOf });

    public void Contribution(ContributionDraft contribution, string code, string what, double size, string sizeOf) =>
        Faults.Add(
            new PlantedFault(contribution.Id, PlantedFault.ContributionRecord, contribution.Id, code, what)
            {
                Size = size,
                SizeOf = sizeOf
            });

    public static void Times(int count, Action plant)
    {
        for (int i = 0; i < count; i++) plant();
    }

    private static void Shuffle<T>(List<T> items, Random random)
    {
        for (int i = items.Count - 1; i > 0; i--)
        {
            int j = random.Next(i + 1);
            (items[i], items[j]) = (items[j], items[i]);
        }
    }
}
