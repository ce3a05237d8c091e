namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>k and S of one burial with their covariance, first order.</summary>
/// <remarks>
/// k and S are made from the same fast bag and the same lot, so that they correlate by construction and not by soil:
/// <code>
/// cov_bag(k, S) = (∂k/∂w_f) (∂S/∂w_f) u²(w_f),   ∂S/∂w_f = 1/H_f,   ∂k/∂w_f = a_loss H_s / (H_f a_s (w_s - (1 - a_s)) t)
/// cov_lot(k, S) = Σ over the lot quantities q of (∂k/∂q u(q)) (∂S/∂q u(q))
/// </code>
/// with a_loss = 1 - w_s. Source: JCGM 102:2011, 6.2 (U_y = C U_x Cᵀ), the inputs being independent of one another.
/// </remarks>
/// <param name="RatePerDay">Decay rate k (d⁻¹).</param>
/// <param name="StabilisationFactor">Stabilisation factor S (1).</param>
/// <param name="CovarianceBag">Covariance from the burial's own weighings (d⁻¹).</param>
/// <param name="CovarianceLot">Covariance from the lots' chemistry (d⁻¹).</param>
public sealed record RateAndStabilisation(
    Estimate RatePerDay, Estimate StabilisationFactor, double CovarianceBag, double CovarianceLot)
{
    /// <summary>Covariance of k and S (d⁻¹).</summary>
    public double Covariance => CovarianceBag + CovarianceLot;

    /// <summary>Correlation of the errors of k and S; 0 where either has no uncertainty.</summary>
    public double Correlation =>
        RatePerDay.Uncertainty * StabilisationFactor.Uncertainty is > 0 and double product ? Covariance / product : 0;

    /// <summary>Computes both with their covariance.</summary>
    /// <returns>The pair, or the reason why there is no k.</returns>
    public static Computed<RateAndStabilisation> Of(
        RemainingFraction fast, LitterLot fastLot, RemainingFraction slow, LitterLot slowLot, Exposure exposure)
    {
        Computed<Estimate> rate = TwoLitterIndex.RatePerDay(fast, fastLot, slow, slowLot, exposure);
        if (rate.Value is not { } k)
            return rate.Reason!.Value;
        Estimate s = TwoLitterIndex.StabilisationFactor(fast, fastLot).Value!;

        double decomposable = slowLot.HydrolysableFraction * fast.Loss / fastLot.HydrolysableFraction;
        double left = decomposable - slow.Loss;
        double ratePerFastW = slow.Loss * slowLot.HydrolysableFraction
            / (fastLot.HydrolysableFraction * decomposable * left * exposure.Days);
        double covarianceBag = ratePerFastW * fast.UncertaintyBag * fast.UncertaintyBag / fastLot.HydrolysableFraction;
        double covarianceLot =
            k.Lot.FastHydrolysable * s.Lot.FastHydrolysable
            + k.Lot.SlowHydrolysable * s.Lot.SlowHydrolysable
            + k.Lot.FastAsh * s.Lot.FastAsh
            + k.Lot.SlowAsh * s.Lot.SlowAsh;
        return new RateAndStabilisation(k, s, covarianceBag, covarianceLot);
    }
}
