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
    /// <param name="bags">All that name the burial, each with its lot.</param>
    public static WeighedBurial Of(IReadOnlyList<(BagRow Bag, LotRow Lot)> bags, MeasurementAssumptions assumptions)
    {
        (BagRow Bag, LotRow Lot)[] fast = [.. bags.Where(b => b.Bag.Role == LitterRole.Fast)];
        (BagRow Bag, LotRow Lot)[] slow = [.. bags.Where(b => b.Bag.Role == LitterRole.Slow)];
        (BagWeighing, LitterLot)[] weighed =
        [
            .. new[] { fast, slow }.Where(b => b.Length == 1).Select(b => (b[0].Bag.Weighing(b[0].Lot, assumptions), b[0].Lot.Litter())),
        ];
        FractionBasis basis = RemainingFraction.BasisOf(weighed);
        Computed<RemainingFraction> ofFast = Of(fast, MissingReason.FastBagAbsent), ofSlow = Of(slow, MissingReason.SlowBagAbsent);
        Exposure? exposure = slow.Length == 1 && slow[0].Bag.RetrievedOn is { } retrieved
            ? Exposure.Between(slow[0].Bag.BuriedOn, retrieved, assumptions) : null;
        return new WeighedBurial(
            ofFast, ofSlow,
            ofFast.Value is { } left ? TwoLitterIndex.StabilisationFactor(left) : ofFast.Reason!.Value,
            exposure, RateOf(ofFast, ofSlow, exposure),
            ofFast.Value is { } f && ofSlow.Value is { } s && exposure is { } time ? RateInterval.Of(f, s, time) : null);

        Computed<RemainingFraction> Of((BagRow Bag, LotRow Lot)[] own, MissingReason absent) => own.Length switch
        {
            0 => absent,
            1 => RemainingFraction.Of(own[0].Bag.Weighing(own[0].Lot, assumptions), own[0].Lot.Litter(), basis, assumptions),
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
