namespace DecayAtlas.Pages.Reading;

/// <summary>How many of one kind of record there were and are.</summary>
public sealed record CountChange(string Table, int Before, int Now);

/// <summary>What a release has that the one before it had not.</summary>
/// <param name="Previous">Id of the release before.</param>
/// <param name="Counts">Rows of the tables.</param>
/// <param name="Added">Contributions that are new.</param>
/// <param name="Revised">Contributions in a higher revision.</param>
/// <param name="Gone">Contributions that are no longer there.</param>
/// <param name="RatesChanged">Burials that are in both and have another k, or have one only now.</param>
/// <param name="UsesChanged">Burials that are in both with another use.</param>
public sealed record ChangesSince(
    string Previous, IReadOnlyList<CountChange> Counts, IReadOnlyList<string> Added, IReadOnlyList<string> Revised,
    IReadOnlyList<string> Gone,
    int RatesChanged, int UsesChanged)
{
    public static ChangesSince Of(ReleaseData before, ReleaseData now)
    {
        Dictionary<string, int> revisions =
            before.Contributions.ToDictionary(c => c.ContributionId, c => c.Revision, StringComparer.Ordinal);
        HashSet<string> still = [.. now.Contributions.Select(c => c.ContributionId)];
        Dictionary<(string ContributionId, string BurialId), ReleasedBurial> burials =
            before.Burials.ToDictionary(b => (b.ContributionId, b.BurialId));
        (ReleasedBurial Before, ReleasedBurial Now)[] both =
        [
            .. now.Burials.Where(b => burials.ContainsKey((b.ContributionId, b.BurialId)))
                .Select(b => (burials[(b.ContributionId, b.BurialId)], b)),
        ];
        return new ChangesSince(
            before.ReleaseId,
            [
                new("contributions", before.Contributions.Count, now.Contributions.Count),
                new("sites", before.Sites.Count, now.Sites.Count),
                new("burials", before.Burials.Count, now.Burials.Count),
                new("bags", before.Bags.Count, now.Bags.Count),
                new("flags", before.Flags.Count, now.Flags.Count),
            ],
            [.. now.Contributions.Where(c => !revisions.ContainsKey(c.ContributionId)).Select(c => c.ContributionId)],
            [.. now.Contributions.Where(c => revisions.TryGetValue(c.ContributionId, out int revision) && revision < c.Revision)
                .Select(c => c.ContributionId)],
            [.. revisions.Keys.Where(id => !still.Contains(id)).Order(StringComparer.Ordinal)],
            both.Count(p => p.Before.RatePerDay != p.Now.RatePerDay),
            both.Count(p => p.Before.Use != p.Now.Use));
    }
}
