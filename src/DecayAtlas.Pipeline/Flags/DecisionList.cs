namespace DecayAtlas.Pipeline.Flags;

/// <summary>What the curator decided: contributions withdrawn, suspect flags overruled.</summary>
public sealed class DecisionList
{
    private readonly ILookup<(RecordKey, string), Decision> _overrulings;

    public DecisionList(IReadOnlyList<Decision> all)
    {
        All = all;
        Withdrawn = all.Where(d => d.IsWithdrawal).Select(d => d.ContributionId).ToHashSet(StringComparer.Ordinal);
        _overrulings = all.Where(d => !d.IsWithdrawal).ToLookup(d => (d.Overruled!.Value, d.FlagCode!));
    }

    public static DecisionList None { get; } = new([]);

    /// <summary>Every decision, in the order of the file.</summary>
    public IReadOnlyList<Decision> All { get; }

    public IReadOnlySet<string> Withdrawn { get; }

    /// <summary>The decision that overrules a flag, the latest where there are several.</summary>
    public Decision? Overruling(Flag flag) => _overrulings[(flag.Record, flag.Code)].MaxBy(d => d.On);

    /// <summary>Withdrawals, and the overrulings that were decided for the very revisions at hand.</summary>
    internal DecisionList InForce(IReadOnlyList<ContributionHeader> headers) => new(
        [.. All.Where(d => d.IsWithdrawal || headers.Any(h => h.ContributionId == d.ContributionId && h.Revision == d.Revision))]);

    internal IReadOnlyList<Decision> For(IEnumerable<string> contributionIds)
    {
        HashSet<string> ids = [.. contributionIds];
        return [.. All.Where(d => ids.Contains(d.ContributionId))];
    }
}
