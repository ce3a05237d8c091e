namespace DecayAtlas.Pipeline.Contributors;

/// <summary>One contributor in a run: what it is computed under, and why it must be computed, if it must.</summary>
/// <param name="Key">Stands for all inputs of its rows.</param>
/// <param name="Because">Why it is computed; <see langword="null"/> where earlier rows stand.</param>
/// <param name="Needs">The exact places of its sites, and when bags lay there.</param>
internal sealed record PlannedContributor(ContributorGroup Group, string Key, string? Because, SamplingNeeds Needs)
{
    public string ContributorId => Group.ContributorId;

    /// <summary>Whether its rows of an earlier run stand since it could not be computed: the key is that of then.</summary>
    public bool IsEarlier { get; init; }
}

/// <summary>What a run has to do, worked out before anything is done.</summary>
internal sealed record WorkPlan(IReadOnlyList<PlannedContributor> Contributors)
{
    public IReadOnlyList<PlannedContributor> ToCompute => [.. Contributors.Where(c => c.Because is not null)];

    public static WorkPlan Make(
        IReadOnlyList<ContributorGroup> groups, IReadOnlyDictionary<string, ContributionOutline> outlines, SharedInputs shared,
        Func<ContributorGroup, string> keyOf, WorkDone before)
    {
        string? changed = ChangeOf(shared, before.Inputs);
        return new WorkPlan([.. groups.Select(group =>
        {
            string key = keyOf(group);
            ComputedContributor? entry = before.Contributors.GetValueOrDefault(group.ContributorId);
            string? because = entry is null ? "new"
                : entry.Key == key ? null
                : entry.IsEarlier ? "it could not be computed last time"
                : !entry.Contents.SequenceEqual(group.Headers.Select(h => h.ContentHash)) ? "its contributions changed"
                : changed ?? "a decision, or what others state of its lots, changed";
            return new PlannedContributor(group, key, because, SamplingNeeds.Of([.. group.Headers.Select(h => outlines[h.ContentHash])]));
        })]);
    }

    private static string? ChangeOf(SharedInputs shared, LastInputs? before)
    {
        if (before is null)
            return null;
        LastInputs now = LastInputs.Of(shared);
        List<string> changes = new();
        if (now.Code != before.Code)
            changes.Add("the program changed");
        if (now.Settings != before.Settings)
            changes.Add("a setting under assumptions, flags or answers changed");
        if (now.Countries != before.Countries)
            changes.Add("the country outlines changed");
        if (now.Words != before.Words)
            changes.Add("the mapping of words changed");
        string[] grids = [.. now.Grids.Keys.Union(before.Grids.Keys, StringComparer.Ordinal)
            .Where(name => now.Grids.GetValueOrDefault(name) != before.Grids.GetValueOrDefault(name)).Order(StringComparer.Ordinal)];
        if (grids.Length > 0)
            changes.Add($"grid {string.Join(", ", grids)} changed");
        return changes.Count == 0 ? null : string.Join("; ", changes);
    }
}
