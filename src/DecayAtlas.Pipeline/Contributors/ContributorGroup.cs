namespace DecayAtlas.Pipeline.Contributors;

/// <summary>One group and its active contributions, in order of their id. No number of one contributor depends on another's rows.</summary>
/// <param name="Withdrawn">Ids of its contributions that were withdrawn: they are in no table but that of the decisions.</param>
/// <param name="SensitiveSites">Ids of its sites that any accepted contribution ever marked sensitive, superseded and withdrawn ones
/// too.</param>
internal sealed record ContributorGroup(
    string ContributorId, IReadOnlyList<ContributionHeader> Headers, IReadOnlyList<string> Withdrawn, IReadOnlyList<string> SensitiveSites)
{
    public IEnumerable<string> ContributionIds => Headers.Select(h => h.ContributionId).Concat(Withdrawn);

    public static IReadOnlyList<ContributorGroup> Of(
        IEnumerable<ContributionHeader> active, IReadOnlySet<string> withdrawn, ILookup<string, string> sensitiveSites) =>
    [
        .. active.GroupBy(h => h.ContributorId, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new ContributorGroup(
                g.Key,
                [.. g.Where(h => !withdrawn.Contains(h.ContributionId)).OrderBy(h => h.ContributionId, StringComparer.Ordinal)],
                [.. g.Select(h => h.ContributionId).Where(withdrawn.Contains).Order(StringComparer.Ordinal)],
                [.. sensitiveSites[g.Key].Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)])),
    ];
}
