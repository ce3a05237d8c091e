namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// What the current release holds. It bears witness to what was accepted, where the intake itself can't: no release is published that
/// lacks a contribution of it, or has a lower revision of one, unless a decision withdraws it.
/// </summary>
/// <exception cref="AtlasException">The current release can't be read; from any member.</exception>
internal sealed class ReleaseWitness
{
    private readonly IReadOnlySet<string> _withdrawn;
    private readonly ReleaseReader? _release;
    private readonly string? _linkToNothing;

    private ReleaseWitness(ReleaseReader? release, IReadOnlySet<string> withdrawn, string? linkToNothing)
    {
        Contributions = release is null ? [] : RowsOf(release, AtlasTables.Contributions);
        (_release, _withdrawn, _linkToNothing) = (release, withdrawn, linkToNothing);
    }

    public IReadOnlyList<ReleasedContribution> Contributions { get; }

    /// <summary>Contributor and site of what the release hides: what marked it so may be lost, and it stays hidden all the same.</summary>
    public IReadOnlyList<(string ContributorId, string SiteId)> SensitiveSites() => _release is null
        ? []
        : [.. RowsOf(_release, AtlasTables.Sites).Where(s => s.IsGeneralised).Select(s => (s.ContributorId, s.SiteId)).Distinct()];

    /// <summary>Contributions that the release holds, or by a decision holds no more.</summary>
    public IEnumerable<string> ContributionIds() => _release is null
        ? []
        : Contributions.Select(c => c.ContributionId).Concat(RowsOf(_release, AtlasTables.Decisions).Select(d => d.ContributionId));

    public static ReleaseWitness Of(PipelineConfiguration configuration) =>
        Of(new AtlasFolder(configuration.Atlas), DecisionsFile.Of(configuration).Withdrawn);

    /// <summary>
    /// Before the first release there is nothing to bear witness to. Where only the link to it is lost, as by a restore without links, the
    /// newest release bears witness.
    /// </summary>
    public static ReleaseWitness Of(AtlasFolder atlas, IReadOnlySet<string> withdrawn) => atlas.NewestRelease() is { } newest
        ? new(new ReleaseReader(atlas, newest.Id), withdrawn, null)
        : new(null, withdrawn, new DirectoryInfo(atlas.Current).LinkTarget is null ? null : atlas.Current);

    /// <summary>What of the release is not among contributions with its very content, nor withdrawn.</summary>
    /// <param name="isHigherEnough">Whether a higher revision stands for it too.</param>
    public IReadOnlyList<LostContribution> MissingFrom(IEnumerable<ContributionHeader> contributions, bool isHigherEnough = true)
    {
        ILookup<string, ContributionHeader> there = contributions.ToLookup(h => h.ContributionId, StringComparer.Ordinal);
        return
        [
            .. Contributions
                .Where(c => !_withdrawn.Contains(c.ContributionId) && !there[c.ContributionId].Any(h =>
                    isHigherEnough && h.Revision > c.Revision || h.Revision == c.Revision && h.ContentHash == c.ContentHash))
                .Select(c => LostContribution.Of(c.ContributionId, c.Revision, c.ContentHash)),
        ];
    }

    /// <summary>What the intake lost: of the release, and of all that was ever accepted. What was withdrawn may be gone.</summary>
    public IReadOnlyList<LostContribution> LostFrom(Intake intake, IReadOnlyCollection<ContributionHeader>? coming = null)
    {
        HashSet<string> back = [.. (coming ?? []).Select(h => h.ContentHash)];
        return
        [
            .. MissingFrom(intake.AllHeaders().Concat(coming ?? []))
                .Concat(intake.Lost().Where(l => !_withdrawn.Contains(l.ContributionId) && !back.Contains(l.ContentHash)))
                .DistinctBy(l => (l.ContributionId, l.Revision, l.ContentHash)).OrderBy(l => l.ContributionId, StringComparer.Ordinal)
                .ThenBy(l => l.Revision),
        ];
    }

    /// <exception cref="LostContributionsException">Something was lost.</exception>
    /// <exception cref="AtlasException">There was a release, nothing is left to say what it held, and the intake is empty.</exception>
    public void RequireAllIn(Intake intake, IReadOnlyCollection<ContributionHeader>? coming = null)
    {
        if (_linkToNothing is { } link && intake.AllHeaders().Count == 0)
        {
            throw new AtlasException(
                $"{link} leads to a release that is not there, and neither is any other, nor anything in the intake; mount or restore "
                + "the folders releases and intake, or delete the link to begin an atlas anew.");
        }

        if (LostFrom(intake, coming) is { Count: > 0 } lost)
            throw LostContributionsException.OfIntake(lost);
    }

    private static IReadOnlyList<TRow> RowsOf<TRow>(ReleaseReader release, Table<TRow> table)
        where TRow : class => release.Has(table) ? release.Rows(table)
        : throw new AtlasException($"The current release {release.ReleaseId} lacks the table {table.Name}, so that nothing says what "
        + "it holds; let decayatlas verify name what rotted, and restore the release from a backup.");
}
