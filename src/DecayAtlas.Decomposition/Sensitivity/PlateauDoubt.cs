namespace DecayAtlas.Decomposition.Sensitivity;

/// <summary>Why k and S of a burial may be too high: at its rate the fast litter had not reached its plateau, or the slow one lost too
/// little to tell. One rule for the check of a sender and for the flag of the night.</summary>
/// <param name="Plateau">What the share is that was reached; missing where no share agrees with k.</param>
/// <param name="MostShare">Where it is missing, the largest share that it can be (1).</param>
public sealed record PlateauDoubt(FastPlateau? Plateau, double MostShare)
{
    /// <summary>How many times faster the fast litter decays than the slow one (common practice, no source).</summary>
    public const double FastOverSlow = 8;

    /// <summary>Least share of its plateau that the fast litter must have reached (1).</summary>
    public const double ShareMin = 0.9;

    /// <summary>Coverage factor for about 95 % (JCGM 100:2008, G.6.6).</summary>
    public const double Coverage = 2;

    /// <param name="rate">k as the two litters give it (d⁻¹).</param>
    /// <param name="mostRate">What k may be at most (d⁻¹); missing where that has no bound.</param>
    /// <returns>Null where there is no doubt.</returns>
    public static PlateauDoubt? Of(double days, double rate, double? mostRate, double s, double uncertaintyS,
        double fastOverSlow = FastOverSlow, double shareMin = ShareMin)
    {
        // nothing lost is a doubt of its own
        if (s >= 1)
            return null;
        double lost = 1 - s, allowed = Coverage * uncertaintyS;
        if ((rate > 0 ? FastPlateau.Of(s, rate, days, fastOverSlow) : null) is { ShareReached: { } share } plateau)
            return share >= shareMin || lost > share + allowed ? null : new PlateauDoubt(plateau, share);

        // the error is allowed for once, of S or of k
        double most = Math.Max(ShareAt(rate) + allowed, mostRate is { } bound ? ShareAt(bound) : 1);
        return shareMin == 0 || lost > most ? null : new PlateauDoubt(null, most);

        double ShareAt(double k) => 1 - Math.Exp(-fastOverSlow * Math.Max(0, k) * days);
    }
}
