namespace DecayAtlas.Pipeline.Steps;

/// <summary>What a run record tells of a contributor's records, or of all of them added up.</summary>
public sealed record WorkCounts
{
    public required int Burials { get; init; }

    public required int BurialsWithRate { get; init; }

    public required SortedDictionary<string, int> Flags { get; init; }

    public required SortedDictionary<string, int> BurialsByUse { get; init; }

    /// <summary>Burials that are accepted and have a k: what pages and mails call those that count.</summary>
    public required int BurialsThatCount { get; init; }

    /// <summary>Burials without k, by reason.</summary>
    public required SortedDictionary<string, int> RateMissing { get; init; }

    public required SortedDictionary<string, int> ResultsByUse { get; init; }

    public required SortedDictionary<string, int> ResultsByEvidence { get; init; }

    public static WorkCounts Of(IndexStep.Output index, FlagStep.Output flags) => new()
    {
        Burials = index.Burials.Count,
        BurialsWithRate = index.Burials.Count(b => b.RatePerDay.Value is not null),
        Flags = Tally.Of(flags.Flags, f => f.Code),
        BurialsByUse = Tally.Of(index.Burials, b => AtlasCode.Of(flags.Verdicts.Of(b).Use)),
        BurialsThatCount = index.Burials.Count(b => b.RatePerDay.Value is not null && flags.Verdicts.Of(b).Use == Use.Accepted),
        RateMissing = Tally.Of(index.Burials.Where(b => b.RatePerDay.Reason is not null), b => b.RatePerDay.Reason!.Value.Code()),
        ResultsByUse = Tally.Of(index.Results, r => AtlasCode.Of(flags.Verdicts.Of(r).Use)),
        ResultsByEvidence = Tally.Of(index.Results, r => AtlasCode.Of(r.Row.Evidence)),
    };

    public static WorkCounts Sum(IReadOnlyCollection<WorkCounts> parts) => new()
    {
        Burials = parts.Sum(p => p.Burials),
        BurialsWithRate = parts.Sum(p => p.BurialsWithRate),
        Flags = Tally.Sum(parts.Select(p => p.Flags)),
        BurialsByUse = Tally.Sum(parts.Select(p => p.BurialsByUse)),
        BurialsThatCount = parts.Sum(p => p.BurialsThatCount),
        RateMissing = Tally.Sum(parts.Select(p => p.RateMissing)),
        ResultsByUse = Tally.Sum(parts.Select(p => p.ResultsByUse)),
        ResultsByEvidence = Tally.Sum(parts.Select(p => p.ResultsByEvidence)),
    };
}

/// <summary>Counts by name, names in ordinal order.</summary>
internal static class Tally
{
    public static SortedDictionary<string, int> Of<T>(IEnumerable<T> items, Func<T, string> name) =>
        new(items.CountBy(name).ToDictionary(), StringComparer.Ordinal);

    public static SortedDictionary<string, int> Sum(IEnumerable<IReadOnlyDictionary<string, int>> tallies) => new(
        tallies.SelectMany(t => t).AggregateBy(c => c.Key, 0, (sum, c) => sum + c.Value).ToDictionary(), StringComparer.Ordinal);
}
