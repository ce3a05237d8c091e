using MathNet.Numerics.RootFinding;

namespace DecayAtlas.Decomposition.Sensitivity;

/// <summary>
/// How far the fast litter of a burial got on its way to its plateau, and what S and k are where that is taken into account.
/// <see cref="TwoLitterIndex"/> takes the plateau as reached; the k and S that it gives tell by themselves where it can't be.
/// </summary>
/// <remarks>
/// Let the fast litter lose its decomposable part r times as fast as the slow one. Then with x = k t of the truth
/// <code>
/// a_f / H_f = (1 - S) p,   p = 1 - exp(-r x)        the share of the plateau that is reached
/// a_s / H_s = (1 - S) (1 - exp(-x))
/// </code>
/// and the two-litter index gives 1 - S' = (1 - S) p and 1 - exp(-k' t) = (1 - exp(-x)) / p: one equation for x. Its right side rises from
/// 1/r at x = 0 to 1, so that there is one x, below k' t, where 1 - exp(-k' t) is above 1/r, and else none. Own derivation from the
/// equations of <see cref="TwoLitterIndex"/> and a first-order loss of both litters.
/// </remarks>
/// <param name="ShareReached">p (1); missing where no x fits, when all that is told is that it is not above 1 - exp(-r k' t), since k is
/// not above k'.</param>
/// <param name="StabilisationFactor">S (1) with the plateau taken into account; missing where p is.</param>
/// <param name="RatePerDay">k (d⁻¹), likewise.</param>
public sealed record FastPlateau(double? ShareReached, double? StabilisationFactor, double? RatePerDay)
{
    /// <param name="stabilisationFactor">As the two-litter index gives it, below 1.</param>
    /// <param name="ratePerDay">Likewise, above 0.</param>
    /// <param name="days">Exposure, above 0.</param>
    /// <param name="fastOverSlow">r (1), above 1.</param>
    public static FastPlateau Of(double stabilisationFactor, double ratePerDay, double days, double fastOverSlow)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(stabilisationFactor, 1);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ratePerDay);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(days);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(fastOverSlow, 1);
        double apparent = ratePerDay * days, lost = Lost(apparent);
        double Excess(double x) => Lost(x) / Lost(fastOverSlow * x) - lost;
        double lowest = 1e-9 * apparent;
        if (!(Excess(lowest) < 0))
            return new FastPlateau(null, null, null);
        // beyond some x the plateau is reached to the last digit, and the upper end is the answer
        double x = Excess(apparent) > 0 ? Brent.FindRoot(Excess, lowest, apparent, 1e-14 * apparent, 200) : apparent;
        double p = Lost(fastOverSlow * x);
        return new FastPlateau(p, 1 - (1 - stabilisationFactor) / p, x / days);
    }

    // 1 - exp(-x), without the digits that the subtraction loses where x is small
    private static double Lost(double x) => x < 1e-5 ? x * (1 - x / 2) : 1 - Math.Exp(-x);
}
