namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>k (d⁻¹) and S (1) of one burial with their covariance (d⁻¹), first order.</summary>
/// <remarks>
/// k and S are made from the same fast bag and the same lot, so that they correlate by construction and not by soil:
/// <code>
/// cov_bag(k, S)   = (∂k/∂w_f) (∂S/∂w_f) u²(w_f),   ∂S/∂w_f = 1/H_f,   ∂k/∂w_f = a_loss H_s / (H_f a_s (w_s - (1 - a_s)) t)
/// cov_batch(k, S), cov_lot(k, S) = Σ over the shared quantities q of (∂k/∂q u(q)) (∂S/∂q u(q))
/// </code>
/// with a_loss = 1 - w_s. Source: JCGM 102:2011, 6.2 (U_y = C U_x Cᵀ), the inputs being independent of one another.
/// </remarks>
/// <param name="CovarianceBag">From the burial's own weighings.</param>
public sealed record RateAndStabilisation(Estimate RatePerDay, Estimate StabilisationFactor, double CovarianceBag)
{
    /// <summary>From the water, drying and balance of the batch.</summary>
    public double CovarianceBatch => RatePerDay.Shared.BatchCovariance(StabilisationFactor.Shared);

    /// <summary>From the lots' chemistry, tare and water.</summary>
    public double CovarianceLot => RatePerDay.Shared.LotCovariance(StabilisationFactor.Shared);

    public double Covariance => CovarianceBag + CovarianceBatch + CovarianceLot;

    /// <summary>Of the errors; 0 where either has no uncertainty.</summary>
    public double Correlation =>
        RatePerDay.Uncertainty * StabilisationFactor.Uncertainty is > 0 and double product ? Covariance / product : 0;

    public static Computed<RateAndStabilisation> Of(RemainingFraction fast, RemainingFraction slow, Exposure exposure)
    {
        Computed<Estimate> rate = TwoLitterIndex.RatePerDay(fast, slow, exposure);
        if (rate.Value is not { } k)
            return rate.Reason!.Value;
        Estimate s = TwoLitterIndex.StabilisationFactor(fast).Value!;

        double hFast = fast.Hydrolysable.Value!.Fraction, hSlow = slow.Hydrolysable.Value!.Fraction;
        double decomposable = hSlow * fast.Loss / hFast;
        double left = decomposable - slow.Loss;
        double ratePerFastW = slow.Loss * hSlow / (hFast * decomposable * left * exposure.Days);
        return new RateAndStabilisation(k, s, ratePerFastW * fast.UncertaintyBag * fast.UncertaintyBag / hFast);
    }
}
