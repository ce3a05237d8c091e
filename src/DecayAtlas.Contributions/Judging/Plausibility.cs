using System.Globalization;

namespace DecayAtlas.Contributions.Judging;

/// <summary>One line of what a sender confirms: what was read, beside what is usual.</summary>
/// <param name="Code">Stable, kebab-case.</param>
/// <param name="Of">How many bags, burials or sites were judged.</param>
/// <param name="Lowest">Missing where the line counts and does not measure.</param>
/// <param name="Outside">Ids of those beyond what is usual, in the order of the rows.</param>
public sealed record PlausibilityLine(
    string Code, int Of, double? Lowest, double? Highest, double? UsualLeast, double? UsualMost, IReadOnlyList<string> Outside)
{
    public bool IsUsual => Outside.Count == 0;
}

/// <summary>Whether what was read looks like what people bury: the gate before a check says that all is well. A wrong unit, a swapped
/// column or the wrong half of the Earth are valid numbers, and only a look beside the usual ones tells.</summary>
public static class Plausibility
{
    private static readonly DateOnly Earliest = new(1990, 1, 1);

    /// <param name="today">No day can be later.</param>
    /// <param name="expected">The days of the campaign; null where they are not known.</param>
    public static IReadOnlyList<PlausibilityLine> Of(ContributionTables tables, IReadOnlyList<CheckedBurial> burials, DateOnly today,
        ExpectedDays? expected = null)
    {
        Dictionary<string, LotRow> lots = tables.Lots.ToDictionary(row => row.LotId);
        ILookup<bool, Massed> masses = tables.Bags.Select(bag => Litter(bag, lots)).OfType<Massed>().ToLookup(m => m.Nominal is > 0);
        return
        [
            .. OverNominal([.. masses[true]]),
            .. Measured("litter-mass", masses[false].Select(m => (m.Id, m.Grams)), UsualRange.LitterMassGrams),
            .. Measured("fast-remaining", Values(b => b.FastRemaining)
                .Concat(Means(r => r.FastRemainingMean)), UsualRange.FastRemaining),
            .. Measured("slow-remaining", Values(b => b.SlowRemaining)
                .Concat(Means(r => r.SlowRemainingMean)), UsualRange.SlowRemaining),
            .. Measured("ash-over-lot", tables.Bags.Where(bag => bag.AshFraction is not null && Lot(bag.LotId) is { AshFraction: > 0 })
                .Select(bag => (bag.BagId, bag.AshFraction!.Value / Lot(bag.LotId)!.AshFraction!.Value)), UsualRange.AshOverLot),
            .. Counted("fast-below-slow", burials.Where(b => b is { FastRemaining: not null, SlowRemaining: not null }),
                b => b.BurialId, b => b.FastRemaining < b.SlowRemaining),
            .. Measured("exposure-days", Values(b => b.ExposureDays).Concat(Means(r => r.Exposure)),
                expected?.InSoil is { } inSoil ? new UsualRange(inSoil.Least, inSoil.Most) : UsualRange.ExposureDays),
            .. Counted("days", tables.Bags, b => b.BagId, b => b.BuriedOn >= Earliest && (b.RetrievedOn ?? b.BuriedOn) <= today),
            .. Counted("campaign-days", expected is null ? [] : tables.Bags, b => b.BagId, b => expected!.Hold(b.BuriedOn, b.RetrievedOn)),
            .. Measured("depth", tables.Bags.Where(b => b.DepthCentimetres is not null)
                .Select(b => (b.BagId, b.DepthCentimetres!.Value)), UsualRange.DepthCentimetres),
            .. Measured("rate", Values(b => b.RatePerDay).Concat(Means(r => RateOf(r) ?? r.RatePerDay)), UsualRange.RatePerDay),
            .. Measured("stabilisation", Values(b => b.Stabilisation)
                .Concat(Means(r => IndexOf(r).Stabilisation.Value?.Mean ?? r.Stabilisation)), UsualRange.Stabilisation),
            .. WeighedAgain(tables.Bags),
            .. Places(tables.Sites),
        ];

        IEnumerable<(string, double)> Values(Func<CheckedBurial, double?> of) =>
            burials.Where(b => of(b) is not null).Select(b => (b.BurialId, of(b)!.Value));

        MeanIndex IndexOf(ResultRow row) => row.Index(Lot(row.FastLotId), Lot(row.SlowLotId), MeasurementAssumptions.Default);

        double? RateOf(ResultRow row) => IndexOf(row).LnRate.Value is { } ln ? Math.Exp(ln.Mean) : null;

        LotRow? Lot(string? id) => id is null ? null : lots.GetValueOrDefault(id);

        IEnumerable<(string, double)> Means(Func<ResultRow, double?> of) =>
            tables.Results.Where(r => of(r) is not null).Select(r => (r.ResultId, of(r)!.Value));
    }

    /// <param name="Usual">Of the mass over the nominal one.</param>
    private sealed record Massed(string Id, double Grams, double? Nominal, UsualRange Usual, bool IsUsual);

    // each bag beside its own lot; the line shows the widest range of them
    private static IEnumerable<PlausibilityLine> OverNominal(Massed[] bags)
    {
        if (bags.Length == 0)
            return [];
        double[] shares = [.. bags.Select(bag => bag.Grams / bag.Nominal!.Value)];
        return
        [
            new("mass-over-nominal", bags.Length, shares.Min(), shares.Max(), bags.Min(bag => bag.Usual.Least),
                bags.Max(bag => bag.Usual.Most),
                [.. bags.Where(bag => !bag.IsUsual).Select(bag => bag.Id)]),
        ];
    }

    // what the lot itself allows: a bag that the atlas will not count is none that is as usual
    private static UsualRange UsualOf(LotRow lot) =>
        lot is { LitterMassToleranceGrams: { } tolerance, LitterMassNominalGrams: > 0 and { } nominal }
            ? new UsualRange(1 - tolerance / nominal, 1 + tolerance / nominal) : UsualRange.MassOverNominal;

    // the litter alone, water and all; unknown where the bag is in the mass and its tare is not known
    private static Massed? Litter(BagRow bag, Dictionary<string, LotRow> lots) =>
        bag.MassInitialGrams is { } mass && lots.GetValueOrDefault(bag.LotId) is { } lot
        && (bag.MassBasis == MassBasis.Litter ? mass : mass - lot.TareGrams) is { } litter
            ? new Massed(bag.BagId, litter, lot.LitterMassNominalGrams, UsualOf(lot), IsUsual(bag, lot, litter)) : null;

    private static bool IsUsual(BagRow bag, LotRow lot, double litter) => lot.LitterMassToleranceGrams is not null
        ? ForeseenDoubts.OffNominalGrams(bag, lot) is null
        : lot.LitterMassNominalGrams is not { } nominal || UsualRange.MassOverNominal.Holds(litter / nominal);

    // all masses of a burial as those of another: a table that was copied; a line where there is one
    private static IEnumerable<PlausibilityLine> WeighedAgain(IReadOnlyList<BagRow> bags)
    {
        IGrouping<string, BagRow>[] weighed = [.. bags.GroupBy(bag => bag.BurialId)
            .Where(own => own.Count() > 1 && own.All(bag => bag is { MassInitialGrams: not null, MassFinalGrams: not null }))];
        HashSet<string> known = [];
        string[] again = [.. weighed.Where(own => !known.Add(string.Join(';', own.Select(bag =>
            Invariant($"{bag.LotId} {bag.MassInitialGrams} {bag.MassFinalGrams}")).Order(StringComparer.Ordinal)))).Select(own => own.Key)];
        return again.Length == 0 ? [] : [new("weighed-once", weighed.Length, null, null, null, null, again)];
    }

    private static IEnumerable<PlausibilityLine> Places(IReadOnlyList<SiteRow> sites)
    {
        WorldOutlines world = WorldOutlines.Shipped;
        // A code kept free for users is of no country of this Earth: an invented place can lie where there is sea.
        SiteRow[] real = [.. sites.Where(site => site.CountryCode is not { } code || !IsKeptForUsers(code))];
        SiteRow[] stated = [.. real.Where(site => site.CountryCode is { } code && world.Find(code) is not null)];
        return
        [
            .. Counted("on-land", real, site => site.SiteId,
                site => world.HasLandAt(site.DecimalLatitude, site.DecimalLongitude)),
            .. Counted("in-country", stated, site => site.SiteId,
                site => world.Holds(site.CountryCode!, site.DecimalLatitude, site.DecimalLongitude) == true),
        ];
    }

    /// <summary>ISO 3166-1, 8.1.3: AA, QM to QZ, XA to XZ and ZZ are nobody's, and stay so.</summary>
    public static bool IsKeptForUsers(string countryCode) => countryCode.ToUpper(CultureInfo.InvariantCulture) is var code
        && (code is "AA" or "ZZ" || (code is ['Q', >= 'M' and <= 'Z']) || (code is ['X', >= 'A' and <= 'Z'] && code != "XK"));

    private static IEnumerable<PlausibilityLine> Measured(string code, IEnumerable<(string Id, double Value)> values, UsualRange usual)
    {
        (string Id, double Value)[] all = [.. values];
        if (all.Length == 0)
            return [];
        return
        [
            new(code, all.Length, all.Min(v => v.Value), all.Max(v => v.Value), usual.Least, usual.Most,
                [.. all.Where(v => !usual.Holds(v.Value)).Select(v => v.Id)]),
        ];
    }

    private static IEnumerable<PlausibilityLine> Counted<T>(string code, IEnumerable<T> records, Func<T, string> id,
        Func<T, bool> isUsual)
    {
        T[] all = [.. records];
        return all.Length == 0 ? []
            : [new(code, all.Length, null, null, null, null, [.. all.Where(record => !isUsual(record)).Select(id)])];
    }
}
