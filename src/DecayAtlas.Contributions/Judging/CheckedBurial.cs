namespace DecayAtlas.Contributions.Judging;

/// <summary>What one burial gives, as its sender is told at once: before the atlas knows more, and with the usual assumptions.</summary>
/// <param name="FastRemaining">Share of the fast litter that remained (1).</param>
/// <param name="ExposureDays">Days that its slow bag lay.</param>
/// <param name="RatePerDay">k (d⁻¹), with the ends of its 95 % interval where the weighings set them.</param>
/// <param name="RateAtLeastPerDay">Where k is missing since the slow litter is at its plateau: k is at least this.</param>
/// <param name="Stabilisation">S (1) with its standard uncertainty.</param>
/// <param name="RateMissingBecause">Code of a <see cref="MissingReason"/>, or <see cref="BagLost"/> and the like; null where k is
/// there.</param>
public sealed record CheckedBurial(
    string BurialId, string SiteId, string? Treatment, double? FastRemaining, double? SlowRemaining, double? ExposureDays,
    double? RatePerDay, double? RateLower95PerDay, double? RateUpper95PerDay, double? RateAtLeastPerDay,
    double? Stabilisation, double? StabilisationUncertainty, string? RateMissingBecause, string? StabilisationMissingBecause)
{
    /// <summary>A mass is missing since a bag was not found again: nothing to mend.</summary>
    public const string BagLost = "bag-lost";

    /// <summary>Nothing is known of k since the slow bag lost more than the fast one: more likely a slip than fast decay.</summary>
    public const string LittersSwapped = "litters-swapped";

    /// <summary>Nothing is known of k since a mass is none that a bag of its lot has: that one is to be looked at.</summary>
    public const string MassUnlikely = "mass-unlikely";

    /// <summary>Why its k may not count with the others in the atlas, by <see cref="ForeseenDoubts"/>; empty where nothing is foreseen, and
    /// where there is no k.</summary>
    public IReadOnlyList<string> Doubts { get; init; } = [];

    /// <summary>Every burial of the rows, in the order in which they first stand there.</summary>
    /// <param name="plannedDepth">How deep the campaign wants bags (cm); null where that is not known.</param>
    public static IReadOnlyList<CheckedBurial> Of(IReadOnlyList<BurialRows> burials, double? plannedDepth = null) =>
        [.. burials.Select(rows => Of(rows, plannedDepth))];

    private static CheckedBurial Of(BurialRows rows, double? plannedDepth)
    {
        (string id, IReadOnlyList<BagRow> bags) = (rows.BurialId, rows.Bags);
        if (rows.Weighed is not { } burial)
        {
            string none = MissingReason.LotNotReported.Code();
            return new CheckedBurial(id, bags[0].SiteId, bags[0].Treatment, null, null, null, null, null, null, null, null, null, none,
                none);
        }
        bool isSwapped = burial.Rate.Reason == MissingReason.SlowLossAtPlateau && burial.LostMoreOfSlow;
        bool isUnlike = rows.Bags.Zip(rows.Lots, (bag, lot) => UnlikeMass.Of(bag, lot) is not null).Any(unlike => unlike);
        RateInterval? interval = isSwapped || (burial.Rate.Value is null && burial.RateInterval?.AtLeastPerDay is null) ? null
            : burial.RateInterval;
        return new CheckedBurial(id, bags[0].SiteId, bags[0].Treatment, burial.Fast.Value?.Fraction, burial.Slow.Value?.Fraction,
            burial.InSoil?.Days, burial.Rate.Value?.RatePerDay.Value, interval?.Lower95PerDay, interval?.Upper95PerDay,
            interval?.AtLeastPerDay, burial.StabilisationFactor.Value?.Value, burial.StabilisationFactor.Value?.Uncertainty,
            isUnlike && burial.Rate.Value is null ? MassUnlikely : isSwapped ? LittersSwapped : Because(burial.Rate.Reason),
            Because(burial.StabilisationFactor.Reason))
        {
            Doubts = burial.Rate.Value is null || isSwapped ? []
                : ForeseenDoubts.Of(burial, [.. bags.Zip(rows.Lots)], plannedDepth),
        };

        string? Because(MissingReason? reason) =>
            reason is MissingReason.MassNotReported or MissingReason.RetrievalNotReported
                && bags.Any(bag => bag.Condition == BagCondition.Lost) ? BagLost : reason?.Code();
    }
}
