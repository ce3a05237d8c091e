namespace DecayAtlas.Contributions.Reports;

public sealed record ReasonCount(string Reason, int Burials);

/// <summary>What stands in a contribution, and from how much of it k and S can be computed.</summary>
/// <param name="WithoutRate">Why the others give no k, the commonest first.</param>
public sealed record CheckSummary(
    int Sites, int Lots, int Bags, int Samples, int Burials, int BurialsWithRate, int BurialsWithStabilisation,
    IReadOnlyList<ReasonCount> WithoutRate, DateOnly? FirstBuriedOn, DateOnly? LastRetrievedOn)
{
    public static CheckSummary Of(ContributionTables tables)
    {
        Dictionary<string, LitterLot> lots = tables.Lots.ToDictionary(
            row => row.LotId,
            row => new LitterLot(row.HydrolysableFraction, row.HydrolysableFractionSd, row.AshFraction, row.AshFractionSd, row.TareGrams,
                row.TareSdGrams));
        (MissingReason? Rate, MissingReason? Stabilisation)[] burials =
            [.. tables.Bags.GroupBy(bag => bag.BurialId).Select(burial => Judge([.. burial], lots))];
        return new CheckSummary(tables.Sites.Count, tables.Lots.Count, tables.Bags.Count, tables.Samples.Count, burials.Length,
            burials.Count(burial => burial.Rate is null),
            burials.Count(burial => burial.Stabilisation is null),
            [.. burials.Where(burial => burial.Rate is not null).GroupBy(burial => burial.Rate!.Value.Code(), StringComparer.Ordinal)
                .Select(reason => new ReasonCount(reason.Key, reason.Count())).OrderByDescending(reason => reason.Burials)
                .ThenBy(reason => reason.Reason, StringComparer.Ordinal)],
            tables.Bags.Select(bag => (DateOnly?)bag.BuriedOn).Min(),
            tables.Bags.Select(bag => bag.RetrievedOn).Max());
    }

    private static (MissingReason? Rate, MissingReason? Stabilisation) Judge(BagRow[] bags, Dictionary<string, LitterLot> lots)
    {
        BagRow[] fast = [.. bags.Where(bag => bag.Role == LitterRole.Fast)];
        BagRow[] slow = [.. bags.Where(bag => bag.Role == LitterRole.Slow)];
        if (Single(fast, MissingReason.FastBagAbsent) is { } noFast)
            return (noFast, noFast);
        Computed<RemainingFraction> left = Remaining(fast[0], lots);
        MissingReason? stabilisation = left.Value is null ? left.Reason
            : TwoLitterIndex.StabilisationFactor(left.Value, lots[fast[0].LotId]).Reason;
        if (Single(slow, MissingReason.SlowBagAbsent) is { } noSlow)
            return (noSlow, stabilisation);
        Computed<RemainingFraction> slowLeft = Remaining(slow[0], lots);
        if ((left.Reason ?? slowLeft.Reason) is { } unweighed)
            return (unweighed, stabilisation);
        if (slow[0].RetrievedOn is not { } retrieved)
            return (MissingReason.RetrievalNotReported, stabilisation);
        Exposure exposure = Exposure.Between(slow[0].BuriedOn, retrieved, MeasurementAssumptions.Default);
        return (TwoLitterIndex.RatePerDay(left.Value!, lots[fast[0].LotId], slowLeft.Value!, lots[slow[0].LotId],
            exposure).Reason, stabilisation);
    }

    private static Computed<RemainingFraction> Remaining(BagRow bag, Dictionary<string, LitterLot> lots)
    {
        // A lot with findings is not among the sound rows, and without it nothing can be computed.
        if (!lots.TryGetValue(bag.LotId, out LitterLot? lot))
            return MissingReason.TareNotReported;
        return RemainingFraction.Of(
            new BagWeighing(bag.MassInitialGrams, bag.MassFinalGrams, bag.MassBasis, bag.AshFraction, bag.BalanceResolutionGrams), lot,
            MeasurementAssumptions.Default);
    }

    private static MissingReason? Single(BagRow[] bags, MissingReason absent) => bags.Length switch
    {
        0 => absent,
        1 => null,
        _ => MissingReason.PairAmbiguous,
    };
}
