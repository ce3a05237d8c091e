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
/// w and H are on one basis, dry or ash-free, for both litters. Uncertainty: first order, JCGM 100:2008, 5.1.2. k and S share a_f and
/// H_f, so that they correlate by construction.
/// </remarks>
public static class TwoLitterIndex
{
    /// <summary>The stabilisation factor S (1). Negative where the fast litter lost more than its hydrolysable share; not
    /// clamped.</summary>
    public static Computed<Estimate> StabilisationFactor(RemainingFraction fast)
    {
        double loss = fast.Loss;
        if (!(loss > 0))
            return MissingReason.FastLossNotPositive;
        if (fast.Hydrolysable.Value is not { } h)
            return fast.Hydrolysable.Reason!.Value;

        // dS/da_f = -1/H_f and a_f = 1 - w_f, so that dS/dw_f = 1/H_f; dS/dH_f = a_f/H_f²
        double perW = 1 / h.Fraction;
        return new Estimate(
            1 - loss / h.Fraction,
            perW * fast.UncertaintyBag,
            new SharedErrors(perW * fast.Shared + loss / (h.Fraction * h.Fraction) * h.Errors, default));
    }

    /// <summary>
    /// The decay rate k of the slow litter's decomposable part (d⁻¹). Zero or negative where the slow litter lost nothing;
    /// missing where the fast litter lost nothing, where the slow litter is at its plateau, or where no time passed.
    /// </summary>
    /// <exception cref="ArgumentException">The two fractions are on different bases.</exception>
    public static Computed<Estimate> RatePerDay(RemainingFraction fast, RemainingFraction slow, Exposure exposure)
    {
        if (fast.Basis != slow.Basis)
            throw new ArgumentException("The two litters of a burial must be on one basis, dry or ash-free.", nameof(slow));
        double t = exposure.Days;
        if (!(t > 0))
            return MissingReason.ExposureNotPositive;
        double fastLoss = fast.Loss;
        if (!(fastLoss > 0))
            return MissingReason.FastLossNotPositive;
        if ((fast.Hydrolysable.Reason ?? slow.Hydrolysable.Reason) is { } noHydrolysable)
            return noHydrolysable;

        Hydrolysable ofFast = fast.Hydrolysable.Value!, ofSlow = slow.Hydrolysable.Value!;
        double decomposable = ofSlow.Fraction * fastLoss / ofFast.Fraction;      // a_s
        double slowLoss = slow.Loss;
        double left = decomposable - slowLoss;                                   // w_s - (1 - a_s)
        if (!(left > 0))
            return MissingReason.SlowLossAtPlateau;

        double k = Math.Log(decomposable / left) / t;

        double perDecomposable = -slowLoss / (decomposable * left * t);          // dk/da_s
        double perFastW = -perDecomposable * ofSlow.Fraction / ofFast.Fraction;  // da_s/dw_f = -H_s/H_f
        double perSlowW = -1 / (left * t);                                       // dk/dw_s
        double variance =
            Square(perFastW * fast.UncertaintyBag)
            + Square(perSlowW * slow.UncertaintyBag)
            + Square(k / t * exposure.UncertaintyDays);

        return new Estimate(k, Math.Sqrt(variance), new SharedErrors(
            Fast: perFastW * fast.Shared + perDecomposable * (-decomposable / ofFast.Fraction) * ofFast.Errors,
            Slow: perSlowW * slow.Shared + perDecomposable * (decomposable / ofSlow.Fraction) * ofSlow.Errors));
    }

    private static double Square(double x) => x * x;
}
