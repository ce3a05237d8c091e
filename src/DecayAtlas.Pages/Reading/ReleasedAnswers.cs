namespace DecayAtlas.Pages.Reading;

/// <summary>Answers that a release gives to group questions; none where it has no such tables.</summary>
/// <param name="Variance">Levels of the nested model that have a share, of k and of S.</param>
/// <param name="Comparisons">Pairs of groups that have a ratio of k or a difference of S.</param>
public sealed record ReleasedAnswers(IReadOnlyList<ReleasedVariance> Variance, IReadOnlyList<ReleasedComparison> Comparisons)
{
    public static ReleasedAnswers None { get; } = new([], []);

    /// <summary>The means of the groups compared.</summary>
    public IReadOnlyList<ReleasedGroup> Groups { get; init; } = [];

    /// <summary>How far the two-bag k can be trusted; missing where the release has no series.</summary>
    public ReleasedAgreement? Agreement { get; init; }

    /// <summary>Whether both litters have one S; missing where the release has no such answer.</summary>
    public ReleasedCalibration? Calibration { get; init; }

    /// <summary>How k and S go with warmth, the forms that are told.</summary>
    public IReadOnlyList<ReleasedWarmth> Warmth { get; init; } = [];

    /// <summary>How k and S changed over campaigns.</summary>
    public IReadOnlyList<ReleasedTrend> Trend { get; init; } = [];

    /// <summary>What suppositions would change.</summary>
    public IReadOnlyList<ReleasedSensitivity> Sensitivity { get; init; } = [];

    /// <summary>The same without noted burials; missing where there are none.</summary>
    public ReleasedAnswers? WithoutNoted { get; init; }

    /// <summary>What would be another without noted burials, as far as the page tells it.</summary>
    public IReadOnlyList<ReleasedNotedAnswer> Noted { get; init; } = [];

    /// <param name="of">k or s.</param>
    public bool ChangesWithoutNoted(string answer, string of) => Noted.Any(n => n.Answer == answer && n.Of == of && n.ConclusionChanges);

    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static ReleasedAnswers Read(ReleaseReader release)
    {
        (IReadOnlyList<ReleasedVariance> variance, IReadOnlyList<ReleasedComparison> comparisons,
            IReadOnlyList<ReleasedAgreement> agreement) = (RowsOf(release, AtlasTables.Variance),
            RowsOf(release, AtlasTables.Comparisons), RowsOf(release, AtlasTables.Agreement));
        IReadOnlyList<ReleasedGroup> groups = RowsOf(release, AtlasTables.Groups);
        IReadOnlyList<ReleasedCalibration> calibration = RowsOf(release, AtlasTables.Calibration);
        IReadOnlyList<ReleasedWarmth> warmth = RowsOf(release, AtlasTables.Warmth);
        IReadOnlyList<ReleasedTrend> trend = RowsOf(release, AtlasTables.Trend);
        // the values of sites stand on no page of answers
        ReleasedNotedAnswer[] noted = [.. RowsOf(release, AtlasTables.NotedAnswers).Where(n => n.Answer != "site_values")];
        return Of(NotedUse.All) with
        {
            Sensitivity = RowsOf(release, AtlasTables.Sensitivity),
            WithoutNoted = noted.Any(n => n.NotedBurials > 0) ? Of(NotedUse.Without) : null,
            Noted = noted,
        };

        ReleasedAnswers Of(string records) => new(
            [.. variance.Where(v => v.Records == records && v.Model == "nested" && v.Share is not null)],
            [.. comparisons.Where(c => c.Records == records && c.Contrast is not null)])
        {
            Groups = [.. groups.Where(g => g.Records == records)],
            Agreement = agreement.FirstOrDefault(a => a.Records == records),
            Calibration = calibration.FirstOrDefault(c => c.Records == records),
            Warmth = [.. warmth.Where(w => w.Records == records)],
            Trend = [.. trend.Where(t => t.Records == records)],
        };
    }

    // a release that an earlier version published may lack a table
    private static IReadOnlyList<TRow> RowsOf<TRow>(ReleaseReader release, Table<TRow> table)
        where TRow : class => release.Has(table) ? release.Rows(table) : [];
}
