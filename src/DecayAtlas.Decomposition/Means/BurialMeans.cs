namespace DecayAtlas.Decomposition.Means;

/// <summary>Mean remaining fraction of one litter over the burials of a site.</summary>
/// <param name="Sd">Standard deviation between bags (1); missing where it was not told.</param>
public sealed record MeanFraction(RemainingFraction Mean, double? Sd);

/// <summary>What a group tells of the burials of one site in place of their weighings.</summary>
/// <param name="Fast">Of the fast litter, or why there is none; so of the slow.</param>
/// <param name="Correlation">Of w_f and w_s over the burials.</param>
/// <param name="ExposureDays">Mean exposure t̄ (d), with its standard deviation between burials where told.</param>
public sealed record BurialMeans(
    int Burials, Computed<MeanFraction> Fast, Computed<MeanFraction> Slow, double Correlation, double? ExposureDays, double? ExposureSdDays)
{
    /// <summary>Mean ln k and mean S of the burials, as single weighings would have given them.</summary>
    /// <remarks>
    /// The two-litter equations bend, so that k of the means is not the mean of the ks. With K = k t = ln a - ln D, c = H_s/H_f,
    /// a = c (1 - w_f), D = w_s - (1 - a), and m the second moments of the fractions about their means, (n - 1)/n times the square of
    /// the sd:
    /// <code>
    /// K_f = c (1/D - 1/a)       K_s = -1/D
    /// K_ff = c² (1/D² - 1/a²)   K_fs = -c/D²   K_ss = 1/D²
    /// L_i = K_i/K               L_ij = K_ij/K - K_i K_j/K²                       derivatives of ln K
    /// mean ln k = ln K(w̄) + (L_ff m_ff + 2 L_fs m_fs + L_ss m_ss)/2 - (ln t̄ - m_tt/(2 t̄²))
    /// sd² = L_f² s_f² + 2 L_f L_s r s_f s_s + L_s² s_s²
    /// </code>
    /// S is straight in w_f and needs no correction. Source: second-order Taylor expansion of a mean, JCGM 100:2008, 5.1.2 note. Where the
    /// correlation was not told it is taken as 0: S moves both fractions the same way and k's derivatives have opposite signs, so that
    /// this makes the error rather too large.
    /// </remarks>
    public MeanIndex Index()
    {
        Computed<MeanWithErrors> s = StabilisationOf();
        if ((Fast.Reason ?? Slow.Reason) is { } absent)
            return MeanIndex.Without(absent, s);
        if (ExposureDays is not { } t)
            return MeanIndex.Without(MissingReason.RetrievalNotReported, s);
        (MeanFraction fast, MeanFraction slow) = (Fast.Value!, Slow.Value!);
        Computed<Estimate> ofMeans = TwoLitterIndex.RatePerDay(fast.Mean, slow.Mean, new Exposure(t, 0));
        if (ofMeans.Value is not { } k)
            return MeanIndex.Without(ofMeans.Reason!.Value, s);
        if (!(k.Value > 0))
            return MeanIndex.Without(MissingReason.MeanRateNotPositive, s);

        double c = slow.Mean.Hydrolysable.Value!.Fraction / fast.Mean.Hydrolysable.Value!.Fraction;
        double a = c * fast.Mean.Loss, d = a - slow.Mean.Loss, kt = k.Value * t;
        double perFast = c * (1 / d - 1 / a) / kt, perSlow = -1 / (d * kt);                                  // L_f, L_s
        double ff = c * c * (1 / (d * d) - 1 / (a * a)) / kt - perFast * perFast;
        double fs = -c / (d * d * kt) - perFast * perSlow;
        double ss = 1 / (d * d * kt) - perSlow * perSlow;
        double sFast = fast.Sd ?? 0, sSlow = slow.Sd ?? 0, cross = Correlation * sFast * sSlow, sTime = ExposureSdDays ?? 0;
        double moment = MeanIndex.Moment(Burials);
        double bent = moment * (ff * sFast * sFast + 2 * fs * cross + ss * sSlow * sSlow) / 2;
        double lnTime = Math.Log(t) - moment * sTime * sTime / (2 * t * t);
        double square = perFast * perFast * sFast * sFast + 2 * perFast * perSlow * cross + perSlow * perSlow * sSlow * sSlow;
        bool isScatterKnown = fast.Sd is not null && slow.Sd is not null && Burials > 1;
        MeanWithErrors lnRate = new(
            Burials, Math.Log(kt) + bent - lnTime, isScatterKnown ? Math.Sqrt(Math.Max(0, square)) : null, 1 / k.Value * k.Shared);
        return MeanIndex.With(lnRate, s) with { IsHarmonised = true };
    }

    private Computed<MeanWithErrors> StabilisationOf()
    {
        if (Fast.Value is not { } fast)
            return Fast.Reason!.Value;
        Computed<Estimate> ofMean = TwoLitterIndex.StabilisationFactor(fast.Mean);
        if (ofMean.Value is not { } s)
            return ofMean.Reason!.Value;
        return new MeanWithErrors(Burials, s.Value, Burials > 1 ? fast.Sd / fast.Mean.Hydrolysable.Value!.Fraction : null, s.Shared);
    }
}
