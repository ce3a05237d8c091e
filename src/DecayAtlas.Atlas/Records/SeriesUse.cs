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

    /// <summary>Fewer retrievals than this and no curve is looked for.</summary>
    private const int FewestRetrievals = 3;

    /// <summary>Bags whose exposures lie closer than this are of one retrieval (d; common practice, no source).</summary>
    private const int RetrievalDays = 7;

    /// <summary>The longest exposure over the shortest, below which there is no course of decay to see (common practice, no
    /// source).</summary>
    private const double LeastSpan = 2;

    /// <summary>Whether exposures (d) make a series: at least three retrievals, the longest at least twice the shortest.</summary>
    public static bool IsSeries(IReadOnlyCollection<int> days) =>
        days.Count >= FewestRetrievals && days.Max() >= LeastSpan * days.Min() && Retrievals(days).Length >= FewestRetrievals;

    /// <summary>The shortest exposure of each retrieval, in order (d).</summary>
    public static int[] Retrievals(IEnumerable<int> days)
    {
        List<int> firsts = [];
        foreach (int d in days.Order())
        {
            if (firsts.Count == 0 || d - firsts[^1] >= RetrievalDays)
                firsts.Add(d);
        }
        return [.. firsts];
    }

    /// <summary>Whether a flag says no more than that a bag lay shorter or longer than one retrieval is asked for: in a series that is
    /// the plan.</summary>
    public static bool IsOfExposure(string code) => code is ExposureShort or ExposureLong or PlateauNotReached;

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
