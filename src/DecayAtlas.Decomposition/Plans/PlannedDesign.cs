namespace DecayAtlas.Decomposition.Plans;

/// <summary>What a planned campaign compares.</summary>
public enum PlannedComparison
{
    /// <summary>Two groups of sites.</summary>
    Between,

    /// <summary>Two treatments, both at each site.</summary>
    Within,

    /// <summary>The same sites over campaigns: the change from the first to the last, as a straight line.</summary>
    Again,
}

/// <summary>How many sites, plots, burials and campaigns, and what is expected to be lost.</summary>
/// <param name="SitesPerGroup">Of each group of <see cref="PlannedComparison.Between"/>; else all sites.</param>
/// <param name="Plots">Of each site (of each treatment at it), the same in all campaigns.</param>
/// <param name="Burials">In each plot and campaign; a burial is two bags.</param>
public sealed record PlannedDesign(PlannedComparison Comparison, int SitesPerGroup, int Plots, int Burials, int Campaigns)
{
    /// <summary>Share of burials that are lost or give no value.</summary>
    public double Loss { get; init; }

    /// <summary>Share of sites that leave between one campaign and the next.</summary>
    public double Dropout { get; init; }

    /// <summary>Whether the groups (the campaigns of <see cref="PlannedComparison.Again"/>) have lots of their own.</summary>
    public bool HasOwnLots { get; init; }

    /// <summary>Whether the groups (the campaigns of <see cref="PlannedComparison.Again"/>) have batches of their own.</summary>
    public bool HasOwnBatches { get; init; }

    public int SitesInAll => SitesPerGroup * (Comparison == PlannedComparison.Between ? 2 : 1);

    /// <summary>Treatments at each site.</summary>
    internal int Parts => Comparison == PlannedComparison.Within ? 2 : 1;

    internal int BurialsOfSite => Parts * Plots * Burials;

    internal bool IsBalanced => Loss == 0 && Dropout == 0;

    /// <summary>Of the difference (of each campaign of <see cref="PlannedComparison.Again"/>): what lots and batches add that its sides do
    /// not share.</summary>
    internal double KnownVariance(PlanVariances variances)
    {
        double lot = HasOwnLots ? variances.LotError * variances.LotError : 0,
            batch = HasOwnBatches ? variances.BatchError * variances.BatchError : 0;
        return Comparison == PlannedComparison.Again ? lot + batch : 2 * (lot + batch / Campaigns);
    }

    public int BurialsInAll => SitesInAll * BurialsOfSite * Campaigns;

    public int Bags => 2 * BurialsInAll;

    /// <summary>Burials expected to give no value, those of sites that left included.</summary>
    public double ExpectedLost => SitesInAll * BurialsOfSite
        * (Campaigns - (1 - Loss) * Enumerable.Range(0, Campaigns).Sum(c => Math.Pow(1 - Dropout, c)));
}

/// <summary>What a design costs, in one currency: bags, sites in one campaign, campaigns.</summary>
public sealed record PlanCosts(double Bag, double Site, double Campaign)
{
    public double Of(PlannedDesign design) =>
        design.Bags * Bag + design.Campaigns * (design.SitesInAll * Site + Campaign);
}
