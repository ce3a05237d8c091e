namespace DecayAtlas.Decomposition.Plans;

/// <summary>One variance of a plan, and how well it is known.</summary>
/// <param name="Lower95">95 % interval, both ends or none; without them the variance counts as known.</param>
public readonly record struct VariancePart(double Variance, double? Lower95 = null, double? Upper95 = null)
{
    private const double Normal975 = 1.959963984540054;

    public bool IsUncertain => Upper95 > Lower95;

    /// <summary>A variance as it may be in truth: log-normal in two halves, whose median is the estimate and whose 2.5 % and 97.5 % are
    /// the ends of the interval. Where the lower end is 0 the lower half is as wide as the upper; an estimate of 0 is the upper half of
    /// a normal distribution that passes the upper end with 5 % (common practice, no source).</summary>
    /// <param name="deviate">A standard normal number.</param>
    internal VariancePart At(double deviate)
    {
        if (!IsUncertain)
            return new VariancePart(Variance);
        double z = deviate / Normal975, upper = Upper95!.Value, lower = Lower95!.Value;
        if (Variance <= 0)
            return new VariancePart(Math.Abs(z) * upper);
        double up = Math.Log(Math.Max(upper, Variance) / Variance), down = lower > 0 ? Math.Log(Variance / Math.Min(lower, Variance)) : up;
        return new VariancePart(Variance * Math.Exp(z > 0 ? z * up : z * down));
    }
}

/// <summary>The variances that a plan stands on, of ln k or of S, in the square of its unit.</summary>
public sealed record PlanVariances(string Source)
{
    /// <summary>Between sites of one group.</summary>
    public VariancePart Site { get; init; }

    /// <summary>Between seasons, shared by all sites: cancels between groups of one campaign, but not over time.</summary>
    public VariancePart Campaign { get; init; }

    /// <summary>Between the campaigns of one site, beyond what all sites share.</summary>
    public VariancePart CampaignAtSite { get; init; }

    /// <summary>Between parts of sites under one treatment, beyond the site and the treatment: how far what a treatment does varies from
    /// site to site.</summary>
    public VariancePart TreatmentAtSite { get; init; }

    /// <summary>Between plots of a site, the same in all campaigns.</summary>
    public VariancePart Plot { get; init; }

    /// <summary>Between burials of one plot in one campaign.</summary>
    public VariancePart Burial { get; init; }

    /// <summary>Standard uncertainty that all bags of a lot share: of ln k (about a share of k), or of S.</summary>
    public double LotError { get; init; }

    /// <summary>The same of a batch: one campaign's drying, balance and handling.</summary>
    public double BatchError { get; init; }

    public bool AreUncertain => Parts.Any(p => p.IsUncertain);

    private IEnumerable<VariancePart> Parts => [Site, Campaign, CampaignAtSite, TreatmentAtSite, Plot, Burial];

    /// <summary>As they may be in truth.</summary>
    /// <param name="deviates">Standard normal numbers, one for each variance.</param>
    internal PlanVariances At(IReadOnlyList<double> deviates) => this with
    {
        Site = Site.At(deviates[0]),
        Campaign = Campaign.At(deviates[1]),
        CampaignAtSite = CampaignAtSite.At(deviates[2]),
        TreatmentAtSite = TreatmentAtSite.At(deviates[3]),
        Plot = Plot.At(deviates[4]),
        Burial = Burial.At(deviates[5]),
    };

    internal static double[] Deviates(RandomStream random) =>
        [.. Enumerable.Range(0, 6).Select(_ => random.NextNormalPair().First)];
}
