namespace DecayAtlas.Atlas.Records;

/// <summary>
/// Which bags a fitted curve takes: the accepted ones, and those set aside for nothing but an unusual length of exposure, which is what
/// a series of retrievals consists of.
/// </summary>
public static class SeriesUse
{
    public const string ExposureShort = "exposure-short";
    public const string ExposureLong = "exposure-long";
    public const string PlateauNotReached = "plateau-not-reached";
    public const string SlowLossAtPlateau = "slow-loss-at-plateau";

    /// <summary>What a site with one retrieval is asked for (d): about three months (Keuskamp et al. 2013).</summary>
    public const int UsualDays = 90;

    /// <param name="use">Code of a <see cref="Use"/>.</param>
    /// <param name="because">Codes of the flags that decided it, with commas between.</param>
    public static bool Fits(string? use, string? because) =>
        use == AtlasCode.Of(Use.Accepted) || (because ?? "").Split(',').All(code => code is ExposureShort or ExposureLong);

    /// <summary>Whether a burial is set aside for nothing but a slow litter at its plateau: its k is then known to be at least
    /// something.</summary>
    public static bool IsSetAsideAtPlateau(string? because) => because == SlowLossAtPlateau;

    /// <summary>Whether a burial is set aside for nothing but a fast litter short of its plateau, and its exposure.</summary>
    public static bool IsSetAsideForPlateau(string? because) =>
        because?.Split(',') is { } codes && codes.Contains(PlateauNotReached)
        && codes.All(code => code is ExposureShort or ExposureLong or PlateauNotReached);
}
