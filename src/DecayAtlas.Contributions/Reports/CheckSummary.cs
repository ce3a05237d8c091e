namespace DecayAtlas.Contributions.Reports;

public sealed record ReasonCount(string Reason, int Burials);

public sealed record RateCount(int Rows, int WithRate);

/// <summary>What stands in a contribution, and from how much of it k and S can be computed.</summary>
/// <param name="WithoutRate">Why the others give no k, the commonest first.</param>
public sealed record CheckSummary(
    int Sites, int Lots, int Bags, int Samples, int Burials, int BurialsWithRate, int BurialsWithStabilisation,
    IReadOnlyList<ReasonCount> WithoutRate, DateOnly? FirstBuriedOn, DateOnly? LastRetrievedOn)
{
    /// <summary>Rows of means that stand for burials.</summary>
    public int Results { get; init; }

    /// <summary>Those of mean remaining fractions.</summary>
    public RateCount Summarised { get; init; } = new(0, 0);

    /// <summary>Those of k and S as a group computed them.</summary>
    public RateCount Reported { get; init; } = new(0, 0);

    public int ResultBurials { get; init; }

    public static CheckSummary Of(ContributionTables tables)
    {
        Dictionary<string, LotRow> lots = tables.Lots.ToDictionary(row => row.LotId);
        (MissingReason? Rate, MissingReason? Stabilisation)[] burials =
            [.. tables.Bags.GroupBy(bag => bag.BurialId).Select(burial => Judge([.. burial], lots))];
        return new CheckSummary(tables.Sites.Count, tables.Lots.Count, tables.Bags.Count, tables.Samples.Count, burials.Length,
            burials.Count(burial => burial.Rate is null),
            burials.Count(burial => burial.Stabilisation is null),
            [.. burials.Where(burial => burial.Rate is not null).GroupBy(burial => burial.Rate!.Value.Code(), StringComparer.Ordinal)
                .Select(reason => new ReasonCount(reason.Key, reason.Count())).OrderByDescending(reason => reason.Burials)
                .ThenBy(reason => reason.Reason, StringComparer.Ordinal)],
            tables.Bags.Select(bag => (DateOnly?)bag.BuriedOn).Concat(tables.Results.Select(row => (DateOnly?)row.BuriedOn)).Min(),
            tables.Bags.Select(bag => bag.RetrievedOn).Concat(tables.Results.Select(row => row.LastDay)).Max())
        {
            Results = tables.Results.Count,
            ResultBurials = tables.Results.Sum(row => row.Burials),
            Summarised = Means(EvidenceKind.Summarised),
            Reported = Means(EvidenceKind.Reported),
        };

        RateCount Means(EvidenceKind kind)
        {
            ResultRow[] rows = [.. tables.Results.Where(row => row.Evidence == kind)];
            return new RateCount(rows.Length, rows.Count(row =>
                row.Index(Lot(row.FastLotId), Lot(row.SlowLotId), MeasurementAssumptions.Default).LnRate.Value is not null));
        }

        LotRow? Lot(string? id) => id is null ? null : lots.GetValueOrDefault(id);
    }

    private static (MissingReason? Rate, MissingReason? Stabilisation) Judge(BagRow[] bags, Dictionary<string, LotRow> lots)
    {
        // A lot with findings is not among the sound rows, and without it nothing can be computed.
        if (!bags.All(bag => lots.ContainsKey(bag.LotId)))
            return (MissingReason.TareNotReported, MissingReason.TareNotReported);
        WeighedBurial burial = WeighedBurial.Of(bags.Select(bag => (bag, lots[bag.LotId])), MeasurementAssumptions.Default);
        return (burial.Rate.Reason, burial.StabilisationFactor.Reason);
    }
}
