namespace DecayAtlas.Contributions.Reports;

public sealed record ReasonCount(string Reason, int Burials);

public sealed record RateCount(int Rows, int WithRate);

/// <summary>What stands in a contribution, and from how much of it k and S can be computed.</summary>
/// <param name="WithoutRate">Why the others give no k, the commonest first.</param>
public sealed record CheckSummary(
    int Sites, int Lots, int Bags, int Samples, int Burials, int BurialsWithRate, int BurialsWithStabilisation,
    IReadOnlyList<ReasonCount> WithoutRate, DateOnly? FirstBuriedOn, DateOnly? LastRetrievedOn)
{
    /// <summary>Burials of which no row could be read, and which are not among the others.</summary>
    public int BurialsNotRead { get; init; }

    /// <summary>Those with k of which a reason is foreseen that they may not count.</summary>
    public int BurialsInDoubt { get; init; }

    /// <summary>Rows of means that stand for burials.</summary>
    public int Results { get; init; }

    /// <summary>Those of mean remaining fractions.</summary>
    public RateCount Summarised { get; init; } = new(0, 0);

    /// <summary>Those of k and S as a group computed them.</summary>
    public RateCount Reported { get; init; } = new(0, 0);

    public int ResultBurials { get; init; }

    /// <summary>Why rows of means give no k, the commonest first.</summary>
    public IReadOnlyList<ReasonCount> ResultsWithoutRate { get; init; } = [];

    public static CheckSummary Of(ContributionTables tables, IReadOnlyList<CheckedBurial> burials)
    {
        Dictionary<string, LotRow> lots = tables.Lots.ToDictionary(row => row.LotId);
        return new CheckSummary(tables.Sites.Count, tables.Lots.Count, tables.Bags.Count, tables.Samples.Count, burials.Count,
            burials.Count(burial => burial.RateMissingBecause is null),
            burials.Count(burial => burial.StabilisationMissingBecause is null),
            Counted(burials.Select(burial => burial.RateMissingBecause)),
            tables.Bags.Select(bag => (DateOnly?)bag.BuriedOn).Concat(tables.Results.Select(row => (DateOnly?)row.BuriedOn)).Min(),
            tables.Bags.Select(bag => bag.RetrievedOn).Concat(tables.Results.Select(row => row.LastDay)).Max())
        {
            BurialsNotRead = tables.UnreadBurials.Count(id => !burials.Any(burial => burial.BurialId == id)),
            BurialsInDoubt = burials.Count(burial => burial.Doubts.Count > 0),
            Results = tables.Results.Count,
            ResultBurials = tables.Results.Sum(row => row.Burials),
            Summarised = Means(EvidenceKind.Summarised),
            Reported = Means(EvidenceKind.Reported),
            ResultsWithoutRate = Counted(tables.Results.Select(row => RateOf(row).Reason?.Code())),
        };

        RateCount Means(EvidenceKind kind)
        {
            ResultRow[] rows = [.. tables.Results.Where(row => row.Evidence == kind)];
            return new RateCount(rows.Length, rows.Count(row => RateOf(row).Value is not null));
        }

        Computed<MeanWithErrors> RateOf(ResultRow row) =>
            row.Index(Lot(row.FastLotId), Lot(row.SlowLotId), MeasurementAssumptions.Default).LnRate;

        static IReadOnlyList<ReasonCount> Counted(IEnumerable<string?> reasons) =>
        [
            .. reasons.OfType<string>().GroupBy(reason => reason, StringComparer.Ordinal)
                .Select(reason => new ReasonCount(reason.Key, reason.Count())).OrderByDescending(reason => reason.Burials)
                .ThenBy(reason => reason.Reason, StringComparer.Ordinal),
        ];

        LotRow? Lot(string? id) => id is null ? null : lots.GetValueOrDefault(id);
    }
}
