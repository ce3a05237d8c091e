namespace DecayAtlas.Demo.Faults;

/// <summary>
/// The sound contributions while faults are being planted: hands out burials and sites that are still sound, at most
/// one fault a site and contribution, and keeps the list of what was done.
/// </summary>
internal sealed class FaultPlot
{
    private readonly HashSet<(string Contribution, string Site)> _taken = [];
    private readonly BurialDraft[] _burials;
    private readonly (ContributionDraft Contribution, SiteDraft Site)[] _sites;

    public FaultPlot(IReadOnlyList<ContributionDraft> contributions, Random random)
    {
        Contributions = contributions;
        _burials = [.. contributions.SelectMany(contribution => contribution.Burials)];
        _sites = [.. contributions.SelectMany(contribution => contribution.Sites, (contribution, site) => (contribution, site))];
        Shuffle(_burials, random);
        Shuffle(_sites, random);
    }

    public IReadOnlyList<ContributionDraft> Contributions { get; }

    public List<PlantedFault> Faults { get; } = [];

    /// <summary>Takes the next burial that fits and lies on a site without any fault in this contribution.</summary>
    public BurialDraft TakeBurial(Func<BurialDraft, bool>? fits = null) => TakeBurialIfAny(fits ?? (_ => true))
        ?? throw new InvalidOperationException("The scenario has no burial left for a fault that was to be planted.");

    /// <summary>The same, or nothing where none fits.</summary>
    public BurialDraft? TakeBurialIfAny(Func<BurialDraft, bool> fits)
    {
        BurialDraft? burial = Array.Find(
            _burials, b => !_taken.Contains((b.Contribution.Id, b.SiteId)) && BurialMaker.LooksSound(b) && fits(b));
        if (burial is not null) Reserve(burial.Contribution, burial.SiteId);
        return burial;
    }

    /// <summary>Takes the next site that fits, with no fault on it yet.</summary>
    public (ContributionDraft Contribution, SiteDraft Site) TakeSite(Func<ContributionDraft, SiteDraft, bool> fits) =>
        TakeSiteIfAny(fits) ?? throw new InvalidOperationException("The scenario has no site left for a fault that was to be planted.");

    /// <summary>The same, or nothing where none fits.</summary>
    public (ContributionDraft Contribution, SiteDraft Site)? TakeSiteIfAny(Func<ContributionDraft, SiteDraft, bool> fits)
    {
        (ContributionDraft contribution, SiteDraft site) =
            Array.Find(_sites, pair => !_taken.Contains((pair.Contribution.Id, pair.Site.SiteId)) && fits(pair.Contribution, pair.Site));
        if (site is null) return null;
        Reserve(contribution, site.SiteId);
        return (contribution, site);
    }

    /// <summary>Marks a site of a contribution as no longer free for faults.</summary>
    public void Reserve(ContributionDraft contribution, string siteId) => _taken.Add((contribution.Id, siteId));

    public void Bag(BurialDraft burial, BagDraft bag, string code, string what, string? followsFrom = null) =>
        Add(burial.Contribution, "bag", bag.BagId, code, what, followsFrom);

    public void Bags(BurialDraft burial, string code, string what, string? followsFrom = null)
    {
        foreach (BagDraft bag in burial.Bags) Bag(burial, bag, code, what, followsFrom);
    }

    public void Burial(
        BurialDraft burial, string code, string what, string? followsFrom = null, double? size = null, string? sizeOf = null) =>
        Add(burial.Contribution, "burial", burial.BurialId, code, what, followsFrom, size, sizeOf);

    public void Site(
        ContributionDraft contribution, SiteDraft site, string code, string what, string? followsFrom = null, double? size = null,
        string? sizeOf = null) =>
        Add(contribution, "site", site.SiteId, code, what, followsFrom, size, sizeOf);

    public void Contribution(ContributionDraft contribution, string code, string what, double size, string sizeOf) =>
        Add(contribution, PlantedFault.ContributionRecord, contribution.Id, code, what, null, size, sizeOf);

    private void Add(
        ContributionDraft contribution, string type, string id, string code, string what, string? followsFrom, double? size = null,
        string? sizeOf = null) =>
        Faults.Add(new PlantedFault(contribution.Id, type, id, code, what) { FollowsFrom = followsFrom, Size = size, SizeOf = sizeOf });

    /// <summary>Takes burials that fit, each on a site of its own, and does the same to both bags of each.</summary>
    public void SpoilBags(int count, string code, string what, Action<BagDraft> spoil, Func<BurialDraft, bool>? fits = null) =>
        Times(count, () =>
        {
            BurialDraft burial = TakeBurial(fits);
            foreach (BagDraft bag in burial.Bags) spoil(bag);
            Bags(burial, code, what);
        });

    /// <summary>Takes burials that fit, each on a site of its own, and spoils one bag of each.</summary>
    public void SpoilBag(
        int count, string code, string what, Func<BurialDraft, BagDraft> choose, Action<BagDraft> spoil,
        Func<BagDraft, bool>? fits = null) =>
        Times(count, () =>
        {
            BurialDraft burial = TakeBurial(b => fits?.Invoke(choose(b)) ?? true);
            spoil(choose(burial));
            Bag(burial, choose(burial), code, what);
        });

    public static void Times(int count, Action plant)
    {
        for (int i = 0; i < count; i++) plant();
    }

    private static void Shuffle<T>(T[] items, Random random)
    {
        for (int i = items.Length - 1; i > 0; i--)
        {
            int j = random.Next(i + 1);
            (items[i], items[j]) = (items[j], items[i]);
        }
    }
}
