namespace DecayAtlas.Questions.Plans;

/// <summary>What a plan is asked for.</summary>
/// <param name="Comparison">Missing where the mean of one site is what counts.</param>
/// <param name="Effect">Ratio of k, or difference of S, that is to be seen; missing without a comparison.</param>
public sealed record PlanRequest(AskedOf Of, PlannedComparison? Comparison, double? Effect)
{
    public double Power { get; init; } = 0.8;

    /// <summary>Sites of each group where they are fixed; else the fewest are looked for.</summary>
    public int? SitesPerGroup { get; init; }

    public IReadOnlyList<int> Burials { get; init; } = [1, 2, 3, 4, 5, 6, 7, 8];

    public IReadOnlyList<int> Plots { get; init; } = [1];

    public IReadOnlyList<int> Campaigns { get; init; } = [1];

    public double Loss { get; init; }

    public double Dropout { get; init; }

    public bool HasOwnLots { get; init; }

    public bool HasOwnBatches { get; init; }

    public PlanCosts? Costs { get; init; }

    public int? Simulations { get; init; }

    public ulong Seed { get; init; } = 1;

    internal IEnumerable<PlannedDesign> Designs =>
        from campaigns in Campaigns
        from plots in Plots
        from burials in Burials
        select new PlannedDesign(Comparison ?? PlannedComparison.Between, SitesPerGroup ?? 0, plots, burials, campaigns)
        {
            Loss = Loss,
            Dropout = Dropout,
            HasOwnLots = HasOwnLots,
            HasOwnBatches = HasOwnBatches,
        };

    public bool IsOfRate => Of == AskedOf.Rate;

    /// <summary>On the scale that is analysed: ln k, or S.</summary>
    internal double Difference => IsOfRate ? Math.Log(Effect!.Value) : Effect!.Value;

    /// <summary>The effect in words.</summary>
    internal string EffectTold =>
        IsOfRate ? Invariant($"a ratio of k of {Effect:0.00}") : Invariant($"a difference of S of {Effect:0.000}");

    /// <summary>A difference on that scale as it is told: a ratio, or a difference.</summary>
    internal double? Told(double? difference) => difference is { } d ? (IsOfRate ? Math.Exp(d) : d) : null;

    /// <summary>Half an interval as it is told: per cent of k, or S.</summary>
    internal double ToldHalf(double half) => IsOfRate ? 100 * (Math.Exp(half) - 1) : half;
}
