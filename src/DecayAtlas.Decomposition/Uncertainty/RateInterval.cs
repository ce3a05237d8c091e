namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>
/// Every k that the weighings of one burial do not contradict: those for which an error as large as the <see cref="LossContrast"/> has at
/// least 2.5 % to either side.
/// </summary>
/// <remarks>
/// Fieller 1954, Journal of the Royal Statistical Society B 16:175-185 (from memory), for the ratio L_s H_f / (L_f H_s) = 1 - exp(-k t).
/// Since k is one-to-one with that ratio, the ends are those of propagating distributions (JCGM 101:2008) as far as the contrast is
/// linear in its inputs, without drawing any.
/// An end that the weighings do not set is missing: the lower where a slow litter that lost nothing is not contradicted (k = 0 is then as
/// good), the upper where one at its plateau is not (k without bound). So no end is negative where k is above 0.
/// </remarks>
/// <param name="Lower95PerDay">Lower end (d⁻¹); where the slow litter is at its plateau there is one, though there is no k.</param>
/// <param name="Upper95PerDay">Upper end (d⁻¹).</param>
/// <param name="AtLeastPerDay">Where the slow litter is at its plateau or past it: k is at least this with 95 % confidence, one-sided
/// (d⁻¹).</param>
public sealed record RateInterval(double? Lower95PerDay, double? Upper95PerDay, double? AtLeastPerDay)
{
    private const double TwoSided = 0.025, OneSided = 0.05;

    /// <summary><see langword="null"/> where k is missing for another reason than the plateau.</summary>
    public static RateInterval? Of(RemainingFraction fast, RemainingFraction slow, Exposure exposure)
    {
        if (!(exposure.Days > 0) || !(fast.Loss > 0) || (fast.Hydrolysable.Reason ?? slow.Hydrolysable.Reason) is not null)
            return null;

        LossContrast contrast = new(fast, slow, exposure);
        return new RateInterval(
            contrast.LowerEnd(TwoSided), contrast.UpperEnd(TwoSided), contrast.IsAtPlateau ? contrast.LowerEnd(OneSided) : null);
    }
}
