namespace DecayAtlas.Pages.Reading;

internal sealed record CountChange(string Table, int Before, int Now);

/// <summary>What a release has that the one before it had not.</summary>
/// <param name="Revised">Contributions in a higher revision.</param>
/// <param name="RatesChanged">Burials that are in both and have another k, or have one only now.</param>
/// <param name="UsesChanged">Burials that are in both with another use.</param>
internal sealed record ChangesSince(
    string Previous, IReadOnlyList<CountChange> Counts, IReadOnlyList<string> Added, IReadOnlyList<string> Revised,
    IReadOnlyList<string> Gone, int RatesChanged, int UsesChanged)
{
    public static ChangesSince Of(ReleaseData before, ReleaseData now)
    {
        Dictionary<string, int> revisions = before.Contributions.ToDictionary(c => c.ContributionId, c => c.Revision);
        (ReleasedBurial Before, ReleasedBurial Now)[] both = [.. before.Burials.Join(now.Burials,
            b => (b.ContributionId, b.BurialId), b => (b.ContributionId, b.BurialId), (then, today) => (then, today))];
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
            [.. now.Contributions.Where(c => revisions.GetValueOrDefault(c.ContributionId, int.MaxValue) < c.Revision)
                .Select(c => c.ContributionId)],
            [.. revisions.Keys.Except(now.Contributions.Select(c => c.ContributionId)).Order(StringComparer.Ordinal)],
            both.Count(p => p.Before.RatePerDay != p.Now.RatePerDay),
            both.Count(p => p.Before.Use != p.Now.Use));
    }
}
