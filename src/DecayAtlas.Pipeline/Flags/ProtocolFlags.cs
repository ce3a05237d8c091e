using static DecayAtlas.Pipeline.Flags.FlagCatalogue;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What was done otherwise than the protocol asks, so that the numbers do not compare.</summary>
internal static class ProtocolFlags
{
    public static IEnumerable<Flag> Raise(FlagInputs inputs) =>
        inputs.Bags.SelectMany(bag => OfBag(bag, inputs.Options)).Concat(inputs.Burials.SelectMany(OfBurial)).Concat(inputs.Burials.SelectMany(OfPair));

    private static IEnumerable<Flag> OfBag(Bag bag, FlagOptions options)
    {
        BagRow row = bag.Row;
        if (row.RetrievedOn is { } retrieved && retrieved > row.BuriedOn)
        {
            int days = retrieved.DayNumber - row.BuriedOn.DayNumber;
            if (days < options.ExposureMinDays)
                yield return Of(ExposureShort, $"The bag lay {days} days.", days, options.ExposureMinDays, "d");
            if (days > options.ExposureMaxDays)
                yield return Of(ExposureLong, $"The bag lay {days} days.", days, options.ExposureMaxDays, "d");
        }

        if (row.DepthCentimetres is { } depth && (depth < options.DepthMinCentimetres || depth > options.DepthMaxCentimetres))
        {
            yield return Of(DepthOutOfRange,
                $"Buried {depth} cm deep; the protocol says {options.DepthMinCentimetres} to {options.DepthMaxCentimetres} cm.",
                depth, depth < options.DepthMinCentimetres ? options.DepthMinCentimetres : options.DepthMaxCentimetres, "cm");
        }

        if (row.UnusedMaterial == false)
            yield return Of(UnusedMaterialNo, "The litter had been used before.");
        if (row.MassBasis == MassBasis.Gross && bag.Lot.TareGrams is null)
            yield return Of(TareMissing, $"The masses include the bag, and lot {row.LotId} gives no tare.");

        if (row.BalanceResolutionGrams is not { } resolution)
            yield return Of(BalanceUnstated, "The resolution of the balance was not sent.");
        else if (resolution > options.BalanceMaxGrams)
            yield return Of(BalanceCoarse, $"The balance reads {resolution} g.", resolution, options.BalanceMaxGrams, "g");

        if (row.Condition is BagCondition.Torn or BagCondition.Roots)
            yield return Of(BagDamaged, row.Condition == BagCondition.Torn ? "The bag came up torn." : "Roots had grown into the bag.");
        if (row.Condition == BagCondition.Lost)
            yield return Of(BagLost, "The bag was not found again.");
        if (row.Role != bag.Lot.Role)
            yield return Of(RoleDiffersFromLot, $"The bag is {Name(row.Role)}, lot {row.LotId} is {Name(bag.Lot.Role)}.");

        if (row.MassInitialGrams is { } initial
            && bag.Lot is { LitterMassNominalGrams: { } nominal, LitterMassToleranceGrams: { } tolerance }
            && (row.MassBasis == MassBasis.Litter ? 0 : bag.Lot.TareGrams) is { } tare
            // a billionth of a gram: a mass written exactly at the tolerance is within it, whatever binary fractions make of it
            && Math.Abs(initial - tare - nominal) > tolerance + 1e-9)
        {
            yield return Of(MassInitialOffNominal,
                $"The initial litter mass is {initial - tare:0.###} g; lot {row.LotId} allows {nominal} ± {tolerance} g.",
                initial - tare, initial - tare > nominal ? nominal + tolerance : nominal - tolerance, "g");
        }

        if (row.AshFraction is { } ash && bag.Lot.AshFraction is null)
            yield return Of(AshWithoutLotAsh, $"The bag's ash was measured, that of lot {row.LotId} is not known.", ash, null, "1");
        if (row.Drying is { } drying && drying != Drying.Oven)
            yield return Of(DryingNotOven, drying == Drying.None ? "The litter was not dried." : $"The litter was {(drying == Drying.Air ? "air" : "freeze")}-dried.");

        Flag Of(FlagDefinition definition, string explanation, double? measured = null, double? limit = null, string? unit = null) =>
            definition.Raise(bag.Header.ContributionId, row.BagId, explanation, measured, limit, unit);
    }

    private static IEnumerable<Flag> OfBurial(Burial burial)
    {
        string[] sites = [.. burial.Bags.Select(b => b.Row.SiteId).Distinct(StringComparer.Ordinal)];
        if (sites.Length > 1)
        {
            yield return PairSitesDiffer.Raise(burial.Header.ContributionId, burial.BurialId,
                $"Its bags lay at {string.Join(" and ", sites)}.", sites.Length, 1);
        }

        if (burial.Fast is null || burial.Slow is null)
        {
            int fast = burial.Bags.Count(b => b.Row.Role == LitterRole.Fast);
            yield return PairIncomplete.Raise(burial.Header.ContributionId, burial.BurialId,
                $"The burial has {fast} fast and {burial.Bags.Count - fast} slow bags.", burial.Bags.Count, 2, null);
        }
        else if (burial.Fast.Row.BuriedOn != burial.Slow.Row.BuriedOn
            || (burial.Fast.Row.RetrievedOn is { } fastOut && burial.Slow.Row.RetrievedOn is { } slowOut && fastOut != slowOut))
        {
            yield return PairDatesDiffer.Raise(burial.Header.ContributionId, burial.BurialId,
                $"The fast bag lay from {Span(burial.Fast)}, the slow bag from {Span(burial.Slow)}.");
        }
    }

    private static IEnumerable<Flag> OfPair(Burial burial)
    {
        if (burial is { Fast.Row: var fast, Slow.Row: var slow } && (fast.Plot != slow.Plot || fast.Treatment != slow.Treatment))
        {
            yield return PairPlotsDiffer.Raise(burial.Header.ContributionId, burial.BurialId,
                $"The fast bag lay in plot {fast.Plot ?? "(none)"}, treatment {fast.Treatment ?? "(none)"}; the slow bag in plot {slow.Plot ?? "(none)"}, treatment {slow.Treatment ?? "(none)"}.");
        }
    }

    private static string Span(Bag bag) => $"{bag.Row.BuriedOn:yyyy-MM-dd} to {(bag.Row.RetrievedOn is { } day ? $"{day:yyyy-MM-dd}" : "an unknown day")}";

    private static string Name(LitterRole role) => role == LitterRole.Fast ? "fast" : "slow";
}
