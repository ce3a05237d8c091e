using static DecayAtlas.Pipeline.Flags.FlagCatalogue;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What was sent twice, or copied from one place to another.</summary>
internal static class CopyFlags
{
    /// <summary>A balance this fine or finer tells four masses apart well enough that one agreeing burial is no accident (g).</summary>
    private const double TellingResolutionGrams = 0.01;

    public static IEnumerable<Flag> Raise(FlagInputs inputs) =>
        RepeatedBags(inputs.Bags).Concat(RepeatedMasses(inputs.Burials)).Concat(LotDisagreements(inputs));

    private static IEnumerable<Flag> RepeatedBags(IReadOnlyList<Bag> bags)
    {
        var first = new Dictionary<BagPrint, Bag>();
        foreach (Bag bag in bags)
        {
            if (bag.Row.MassInitialGrams is null || bag.Row.MassFinalGrams is null || first.TryAdd(BagPrint.Of(bag), bag))
                continue;

            Bag earlier = first[BagPrint.Of(bag)];
            // replicates without a number may agree by chance: only a fine balance, or another contribution, makes one a copy
            if (bag.Row.Replicate is not null
                || bag.Row.BalanceResolutionGrams is <= TellingResolutionGrams / 10
                || earlier.Header.ContributionId != bag.Header.ContributionId)
            {
                yield return BagRepeated.Raise(bag.Header.ContributionId, bag.Row.BagId,
                    $"Same site, lot, dates and masses as bag {earlier.Row.BagId} of contribution {earlier.Header.ContributionId}.");
            }
        }
    }

    /// <summary>All that tells one bag from another, but for its id.</summary>
    private sealed record BagPrint(
        string SiteKey, string? Plot, string? Replicate, LitterRole Role, string LotId,
        DateOnly BuriedOn, DateOnly? RetrievedOn, double? MassInitialGrams, double? MassFinalGrams)
    {
        public static BagPrint Of(Bag bag) => new(
            bag.SiteKey, bag.Row.Plot, bag.Row.Replicate, bag.Row.Role, bag.Row.LotId,
            bag.Row.BuriedOn, bag.Row.RetrievedOn, bag.Row.MassInitialGrams, bag.Row.MassFinalGrams);
    }

    private static IEnumerable<Flag> RepeatedMasses(IReadOnlyList<Burial> burials)
    {
        var groups = burials
            .Where(b => MassesOf(b) is not null)
            .GroupBy(b => (b.Header.ContributorId, MassesOf(b)!.Value))
            .Where(g => g.Select(b => b.SiteKey).Distinct(StringComparer.Ordinal).Skip(1).Any())
            .Select(g => g.ToArray())
            .ToArray();

        // how many burials each pair of sites has in common
        var shared = new Dictionary<(string, string), int>();
        foreach (Burial[] group in groups)
        {
            foreach ((string, string) pair in SitePairs(group))
                shared[pair] = shared.GetValueOrDefault(pair) + 1;
        }

        foreach (Burial[] group in groups)
        {
            foreach (Burial burial in group)
            {
                Burial? twin = group.FirstOrDefault(other => other.SiteKey != burial.SiteKey
                    && (IsTelling(burial) && IsTelling(other) || shared[PairOf(burial.SiteKey, other.SiteKey)] > 1));
                if (twin is not null)
                {
                    yield return MassesRepeated.Raise(burial.Header.ContributionId, burial.BurialId,
                        $"All four masses are those of burial {twin.BurialId} of contribution {twin.Header.ContributionId} at site {twin.SiteKey}.");
                }
            }
        }
    }

    private static IEnumerable<Flag> LotDisagreements(FlagInputs inputs)
    {
        foreach (Contribution contribution in inputs.Contributions)
        {
            foreach (LotRow row in contribution.Lots)
            {
                double usual = inputs.Lots.UsualFraction(row.LotId);
                if (Math.Abs(row.HydrolysableFraction - usual) > 0.0005)
                {
                    yield return LotDisagreement.Raise(contribution.Header.ContributionId, row.LotId,
                        $"Hydrolysable fraction {row.HydrolysableFraction}; most contributions state {usual} for this lot.",
                        row.HydrolysableFraction, usual, "1");
                }
            }
        }
    }

    /// <summary>The four masses of a whole pair (g), where all were sent.</summary>
    internal static (double, double, double, double)? MassesOf(Burial burial) =>
        burial is { Fast.Row: { MassInitialGrams: { } a, MassFinalGrams: { } b }, Slow.Row: { MassInitialGrams: { } c, MassFinalGrams: { } d } }
            ? (a, b, c, d)
            : null;

    /// <summary>Whether both bags were weighed finely enough for equal masses to mean something.</summary>
    internal static bool IsTelling(Burial burial) =>
        burial.Fast!.Row.BalanceResolutionGrams is <= TellingResolutionGrams && burial.Slow!.Row.BalanceResolutionGrams is <= TellingResolutionGrams;

    private static HashSet<(string, string)> SitePairs(Burial[] group)
    {
        var pairs = new HashSet<(string, string)>();
        foreach (Burial a in group)
        {
            foreach (Burial b in group)
            {
                if (string.CompareOrdinal(a.SiteKey, b.SiteKey) < 0)
                    pairs.Add((a.SiteKey, b.SiteKey));
            }
        }

        return pairs;
    }

    private static (string, string) PairOf(string a, string b) => string.CompareOrdinal(a, b) < 0 ? (a, b) : (b, a);
}
