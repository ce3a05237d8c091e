namespace DecayAtlas.Decomposition.Means;

/// <summary>k and S of one site as a group computed them.</summary>
/// <param name="RateSd">Standard deviation of k between burials (d⁻¹); of S likewise.</param>
/// <param name="FastHydrolysableUsed">H_f that the group put into the two-litter equations; missing where another method was used, or
/// where it is not known on which basis the masses were. So of the slow litter.</param>
public sealed record ReportedMeans(
    int Burials, double? RatePerDay, double? RateSd, double? Stabilisation, double? StabilisationSd, double? ExposureDays,
    double? FastHydrolysableUsed, double? SlowHydrolysableUsed)
{
    /// <summary>k and S on the chemistry of the lots, where the group's own is known; else as they were sent.</summary>
    /// <remarks>
    /// k, S, t and H give back the remaining fractions (the two-litter equations read backwards), and these give k and S with another H.
    /// With h the H that was used, E = e^(-k t), q = h_s H_f/(H_s h_f), D = 1 - q (1 - E):
    /// <code>
    /// S' = 1 - h_f (1 - S)/H_f          k' = -ln(D)/t
    /// dK'/dk = q t E/D                  d²K'/dk² = q t² E (q E - D)/D²            K' = k' t
    /// mean ln k' = ln k'(k̄) + L'' m/2,  L' = (dK'/dk)/K',  L'' = (d²K'/dk²)/K' - L'²
    /// </code>
    /// with m the second moment of k about its mean; q = 1 leaves k as it is. Source: algebra on Keuskamp et al. 2013 (see
    /// <see cref="TwoLitterIndex"/>); expansion of a mean, JCGM 100:2008, 5.1.2 note.
    /// </remarks>
    /// <param name="fast">H of the lot on the basis of the group's masses; missing where no lot is named. So of the slow litter.</param>
    public MeanIndex Index(Hydrolysable? fast, Hydrolysable? slow)
    {
        bool isHarmonised = FastHydrolysableUsed is not null && SlowHydrolysableUsed is not null && fast is not null && slow is not null
            && ExposureDays > 0 && RatePerDay is not null;
        Computed<MeanWithErrors> s = StabilisationOf(fast, isHarmonised ? FastHydrolysableUsed!.Value / fast!.Fraction : 1);
        if (RatePerDay is not { } k)
            return MeanIndex.Without(MissingReason.RateNotReported, s);
        if (!(k > 0))
            return MeanIndex.Without(MissingReason.MeanRateNotPositive, s);

        double q = isHarmonised ? SlowHydrolysableUsed!.Value * fast!.Fraction / (slow!.Fraction * FastHydrolysableUsed!.Value) : 1;
        double t = ExposureDays is > 0 and var days ? days : 1 / k;              // without harmonising t falls out
        double left = Math.Exp(-k * t), d = 1 - q * (1 - left);
        if (!(d > 0))
            return MeanIndex.Without(MissingReason.SlowLossAtPlateau, s);
        double own = -Math.Log(d);                                               // K'
        double first = q * t * left / d / own;                                   // L'
        double second = q * t * t * left * (q * left - d) / (d * d) / own - first * first;
        double sd = RateSd ?? 0, bent = MeanIndex.Moment(Burials) * second * sd * sd / 2;
        // dK'/dq = (1 - E)/D; q rises with H_f and falls with H_s
        double perQ = (1 - left) / d * q / own;
        SharedErrors? shared = fast is null || slow is null ? null
            : new SharedErrors(perQ / fast.Fraction * fast.Errors, -perQ / slow.Fraction * slow.Errors);
        MeanWithErrors lnRate = new(Burials, Math.Log(own / t) + bent, Burials > 1 ? first * RateSd : null, shared);
        return MeanIndex.With(lnRate, s) with { IsHarmonised = isHarmonised };
    }

    private Computed<MeanWithErrors> StabilisationOf(Hydrolysable? fast, double scale)
    {
        if (Stabilisation is not { } s)
            return MissingReason.RateNotReported;
        double loss = scale * (1 - s);                                           // of the decomposable share
        return new MeanWithErrors(Burials, 1 - loss, Burials > 1 ? scale * StabilisationSd : null,
            fast is null ? null : new SharedErrors(loss / fast.Fraction * fast.Errors, default));
    }
}
