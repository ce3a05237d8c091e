namespace DecayAtlas.Pages.Reading;

/// <summary>Answers that a release gives to group questions; none where it has no such tables.</summary>
/// <param name="Variance">Levels of the nested model that have a share.</param>
/// <param name="Comparisons">Pairs of groups that have a ratio.</param>
public sealed record ReleasedAnswers(IReadOnlyList<ReleasedVariance> Variance, IReadOnlyList<ReleasedComparison> Comparisons)
{
    public static ReleasedAnswers None { get; } = new([], []);

    /// <summary>How far the two-bag k can be trusted; missing where the release has no series.</summary>
    public ReleasedAgreement? Agreement { get; init; }

    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static ReleasedAnswers Read(ReleaseReader release) => new(
        [.. RowsOf(release, AtlasTables.Variance).Where(v => v.Model == "nested" && v.Share is not null)],
        [.. RowsOf(release, AtlasTables.Comparisons).Where(c => c.Ratio is not null)])
    {
        Agreement = RowsOf(release, AtlasTables.Agreement) is [ReleasedAgreement row, ..] ? row : null,
    };

    // a release that an earlier version published may lack a table
    private static IReadOnlyList<TRow> RowsOf<TRow>(ReleaseReader release, Table<TRow> table)
        where TRow : class => release.Has(table) ? release.Rows(table) : [];
}
