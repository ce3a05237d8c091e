namespace DecayAtlas.Atlas.Changes;

/// <summary>Records of a table in two releases: how many there are, came and went.</summary>
public sealed record RecordsChanged(string Table, int Before, int Now, int Came, int Went);

/// <param name="How">came, revised, withdrawn (by a decision) or gone (without one).</param>
public sealed record ContributionChanged(string ContributionId, string How, int? RevisionBefore, int? RevisionNow);

/// <summary>A setting that bears on a number; missing where one of the releases does not state it.</summary>
public sealed record SettingChanged(string Setting, string? Before, string? Now);

public sealed record FlagsChanged(string Code, int Came, int Went);

/// <summary>How k and S moved for one cause; a record with several causes counts for each.</summary>
/// <param name="Cause">A word of <see cref="ReleaseChanges.Causes"/>.</param>
/// <param name="MedianRatioOfRate">Median of k now over k before, where both are above 0.</param>
/// <param name="MedianDifferenceOfStabilisation">Median of S now less S before.</param>
public sealed record MovedByCause(
    string Cause, int RatesMoved, double? MedianRatioOfRate, double? LeastRatioOfRate, double? MostRatioOfRate, int StabilisationsMoved,
    double? MedianDifferenceOfStabilisation);

/// <summary>A mean of a site campaign in both releases that is another now.</summary>
public sealed record MeanMoved(
    string SiteKey, string Campaign, string? Treatment, string Evidence, double? RatePerDayBefore, double? RatePerDayNow,
    double? StabilisationBefore, double? StabilisationNow, IReadOnlyList<string> Causes);

/// <summary>What came, went and changed between two releases of an atlas, and why, in numbers.</summary>
public sealed record ReleaseChanges(
    string From, string To, string SoftwareBefore, string SoftwareNow, IReadOnlyList<RecordsChanged> Records,
    IReadOnlyList<ContributionChanged> Contributions, IReadOnlyList<SettingChanged> Settings, IReadOnlyList<FlagsChanged> Flags,
    int UsesChanged, IReadOnlyList<MovedByCause> Burials, int SitesMoved, IReadOnlyList<MovedByCause> Sites,
    IReadOnlyList<MeanMoved> MostMoved)
{
    /// <summary>Sites that are named, the most moved first.</summary>
    private const int Named = 20;

    /// <summary>Why k or S may move, the nearest cause first.</summary>
    public static IReadOnlyList<string> Causes { get; } =
        ["new-data", "revision", "withdrawn", "gone", "flag", "decision", "setting", "code-version", "other-records"];

    /// <exception cref="AtlasException">A release can't be read.</exception>
    public static ReleaseChanges Of(ReleaseReader from, ReleaseReader to) =>
        new ReleaseComparison(new ReleaseSide(from), new ReleaseSide(to)).Result(Named);
}
