namespace DecayAtlas.Contributions.Schema;

/// <summary>What the bags of one burial give, on one basis for both litters.</summary>
/// <param name="Fast">The remaining fraction of its fast bag, or why there is none; so of the slow.</param>
/// <param name="StabilisationFactor">S (1), or why there is none.</param>
/// <param name="InSoil">The time its slow bag lay in the soil, where both dates are known.</param>
/// <param name="Rate">k (d⁻¹) with its covariance with S, or why there is none.</param>
/// <param name="RateInterval">What k can be (d⁻¹), also where the slow litter is at its plateau; missing with k for any other
/// reason.</param>
public sealed record WeighedBurial(
    Computed<RemainingFraction> Fast,
    Computed<RemainingFraction> Slow,
    Computed<Estimate> StabilisationFactor,
    Exposure? InSoil,
    Computed<RateAndStabilisation> Rate,
    RateInterval? RateInterval)
{
    /// <summary>Whether less is left of the slow litter than of the fast one: the bags may be swapped.</summary>
    public bool LostMoreOfSlow => this is { Fast.Value: { } fast, Slow.Value: { } slow } && slow.Fraction < fast.Fraction;

    public static WeighedBurial Of(IEnumerable<(BagRow Bag, LotRow Lot)> bags, MeasurementAssumptions assumptions) =>
        Of([.. bags.Select(b => WeighedBag.Of(b.Bag, b.Lot, assumptions))], assumptions);

    /// <param name="bags">All that name the burial.</param>
    public static WeighedBurial Of(IReadOnlyList<WeighedBag> bags, MeasurementAssumptions assumptions)
    {
        WeighedBag[] fast = [.. bags.Where(b => b.Row.Role == LitterRole.Fast)], slow = [.. bags.Where(b => b.Row.Role == LitterRole.Slow)];
        // two bases must not meet: ash-free only where each bag that counts is
        bool isAshFree = (fast.Length != 1 || fast[0].Basis == FractionBasis.AshFree)
            && (slow.Length != 1 || slow[0].Basis == FractionBasis.AshFree);
        Computed<RemainingFraction> ofFast = Of(fast, MissingReason.FastBagAbsent), ofSlow = Of(slow, MissingReason.SlowBagAbsent);
        Exposure? exposure = slow.Length == 1 && slow[0].Row.RetrievedOn is { } retrieved
            ? Exposure.Between(slow[0].Row.BuriedOn, retrieved, assumptions) : null;
        return new WeighedBurial(
            ofFast, ofSlow,
            ofFast.Value is { } left ? TwoLitterIndex.StabilisationFactor(left) : ofFast.Reason!.Value,
            exposure, RateOf(ofFast, ofSlow, exposure),
            ofFast.Value is { } f && ofSlow.Value is { } s && exposure is { } time ? RateInterval.Of(f, s, time) : null);

        Computed<RemainingFraction> Of(WeighedBag[] own, MissingReason absent) => own.Length switch
        {
            0 => absent,
            1 => isAshFree ? own[0].Remaining : own[0].RemainingDry,
            _ => MissingReason.PairAmbiguous,
        };
    }

    private static Computed<RateAndStabilisation> RateOf(
        Computed<RemainingFraction> fast, Computed<RemainingFraction> slow, Exposure? exposure)
    {
        // that a bag is absent says more than that another was not weighed
        MissingReason?[] reasons = [fast.Reason, slow.Reason];
        MissingReason? reason = reasons.FirstOrDefault(r => r is MissingReason.FastBagAbsent or MissingReason.SlowBagAbsent
            or MissingReason.PairAmbiguous) ?? reasons.FirstOrDefault(r => r is not null);
        if (reason is { } unweighed)
            return unweighed;
        return exposure is { } time ? RateAndStabilisation.Of(fast.Value!, slow.Value!, time) : MissingReason.RetrievalNotReported;
    }
}
