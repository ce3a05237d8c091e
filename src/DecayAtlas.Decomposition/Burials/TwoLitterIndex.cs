namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// Stabilisation factor S and decay rate k from one retrieval of a fast and a slow litter that lay together.
/// </summary>
/// <remarks>
/// With w the remaining fraction, f fast, s slow, H the hydrolysable fraction and t the exposure in days:
/// <code>
/// a_f = 1 - w_f
/// S   = 1 - a_f / H_f
/// a_s = H_s (1 - S) = H_s a_f / H_f
/// k   = ln( a_s / (w_s - (1 - a_s)) ) / t
/// </code>
/// Source: Keuskamp et al. 2013, Methods in Ecology and Evolution 4:1070-1075, doi:10.1111/2041-210X.12097.
/// Uncertainty: first order, JCGM 100:2008, 5.1.2. k and S share a_f and H_f, so that they correlate by construction.
/// </remarks>
public static class TwoLitterIndex
{
    /// <summary>The stabilisation factor S (1). Negative where the fast litter lost more than its hydrolysable share; not
    /// clamped.</summary>
    public static Computed<Estimate> StabilisationFactor(RemainingFraction fast, LitterLot fastLot)
    {
        double loss = fast.Loss;
        if (!(loss > 0))
            return MissingReason.FastLossNotPositive;

        double h = fastLot.HydrolysableFraction;
        // dS/da_f = -1/H_f and a_f = 1 - w_f, so that dS/dw_f = 1/H_f; dS/dH_f = a_f/H_f²
        return new Estimate(
            1 - loss / h,
            fast.UncertaintyBag / h,
            new LotErrors(loss / (h * h) * fastLot.HydrolysableFractionSd, 0, fast.LotAshShift / h, 0));
    }

    /// <summary>
    /// The decay rate k of the slow litter's decomposable part (d⁻¹). Zero or negative where the slow litter lost nothing;
    /// missing where the fast litter lost nothing, where the slow litter is at its plateau, or where no time passed.
    /// </summary>
    public static Computed<Estimate> RatePerDay(
        RemainingFraction fast, LitterLot fastLot, RemainingFraction slow, LitterLot slowLot, Exposure exposure)
    {
        double t = exposure.Days;
        if (!(t > 0))
            return MissingReason.ExposureNotPositive;
        double fastLoss = fast.Loss;
        if (!(fastLoss > 0))
            return MissingReason.FastLossNotPositive;

        double hFast = fastLot.HydrolysableFraction;
        double hSlow = slowLot.HydrolysableFraction;
        double decomposable = hSlow * fastLoss / hFast;      // a_s
        double slowLoss = slow.Loss;
        double left = decomposable - slowLoss;               // w_s - (1 - a_s)
        if (!(left > 0))
            return MissingReason.SlowLossAtPlateau;

        double k = Math.Log(decomposable / left) / t;

        double perDecomposable = -slowLoss / (decomposable * left * t);   // dk/da_s
        double perFastW = -perDecomposable * hSlow / hFast;               // da_s/dw_f = -H_s/H_f
        double perSlowW = -1 / (left * t);                                // dk/dw_s
        double variance =
            Square(perFastW * fast.UncertaintyBag)
            + Square(perSlowW * slow.UncertaintyBag)
            + Square(k / t * exposure.UncertaintyDays);

        return new Estimate(k, Math.Sqrt(variance), new LotErrors(
            FastHydrolysable: perDecomposable * (-decomposable / hFast) * fastLot.HydrolysableFractionSd,
            SlowHydrolysable: perDecomposable * (decomposable / hSlow) * slowLot.HydrolysableFractionSd,
            FastAsh: perFastW * fast.LotAshShift,
            SlowAsh: perSlowW * slow.LotAshShift));
    }

    private static double Square(double x) => x * x;
}
