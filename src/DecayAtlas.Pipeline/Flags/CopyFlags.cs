using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What was sent twice, or copied from one place to another.</summary>
internal static class CopyFlags
{
    /// <summary>A balance this fine or finer tells four masses apart well enough that one agreeing burial is no accident (g).</summary>
    internal const double TellingResolutionGrams = 0.01;

    public static IReadOnlyList<FlagDefinition> All => [new BagRepeated(), new MassesRepeated(), new LotDisagreement()];

    /// <summary>The four masses of a whole pair (g), where all were sent.</summary>
    internal static (double, double, double, double)? MassesOf(Burial burial) =>
        burial is
        {
            Fast.Row: { MassInitialGrams: { } a, MassFinalGrams: { } b },
            Slow.Row: { MassInitialGrams: { } c, MassFinalGrams: { } d }
        }
            ? (a, b, c, d)
            : null;

    /// <summary>Whether both bags were weighed finely enough for equal masses to mean something.</summary>
    internal static bool IsTelling(Burial burial) =>
        burial.Fast!.Row.BalanceResolutionGrams is <= TellingResolutionGrams
        && burial.Slow!.Row.BalanceResolutionGrams is <= TellingResolutionGrams;
}

internal sealed record BagRepeated() : FlagDefinition(
    Copy, "bag-repeated", Suspect, RecordKind.Bag,
    "The same bag was sent before: same site, lot, dates and masses. The first one stands.",
    "site, plot, replicate, role, lot, both dates and both masses equal those of an earlier bag (in the order of contribution, then "
    + "row); bags of one contribution without a replicate number must be weighed to 0.001 g, since coarser ones may agree by chance.",
    "Remove the copy.")
{
    internal override IEnumerable<Flag> Raise(FlagInputs inputs)
    {
        Dictionary<BagPrint, Bag> first = new();
        foreach (Bag bag in inputs.Bags)
        {
            if (bag.Row.MassInitialGrams is null || bag.Row.MassFinalGrams is null || first.TryAdd(BagPrint.Of(bag), bag))
                continue;

            Bag earlier = first[BagPrint.Of(bag)];
            // replicates without a number may agree by chance: only a fine balance, or another contribution, makes one a copy
            if (bag.Row.Replicate is not null
                || bag.Row.BalanceResolutionGrams is <= CopyFlags.TellingResolutionGrams / 10
                || earlier.Header.ContributionId != bag.Header.ContributionId)
            {
                yield return FlagOn(bag.Header.ContributionId, bag.Row.BagId, new(
                    $"Same site, lot, dates and masses as bag {earlier.Row.BagId} of contribution {earlier.Header.ContributionId}."));
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
}

internal sealed record MassesRepeated() : FlagDefinition(
    Copy, "masses-repeated", Suspect, RecordKind.Burial,
    "All four masses of the burial are those of a burial at another site of the same group: the numbers were pasted.",
    "both initial and both final masses equal those of a burial of the same contributor at another site; where the balance is coarser "
    + "than 0.01 g, at least two burials of the two sites must agree, since one may by chance.",
    "Check which site the numbers belong to.")
{
    internal override IEnumerable<Flag> Raise(FlagInputs inputs)
    {
        Burial[][] groups = [.. inputs.Burials
            .Where(b => CopyFlags.MassesOf(b) is not null)
            .GroupBy(b => (b.Header.ContributorId, CopyFlags.MassesOf(b)!.Value))
            .Where(g => g.Select(b => b.SiteKey).Distinct(StringComparer.Ordinal).Skip(1).Any())
            .Select(g => g.ToArray())];

        // how many burials each pair of sites has in common
        Dictionary<(string, string), int> shared = new();
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
                    && (CopyFlags.IsTelling(burial) && CopyFlags.IsTelling(other) || shared[PairOf(burial.SiteKey, other.SiteKey)] > 1));
                if (twin is not null)
                {
                    yield return FlagOn(burial.Header.ContributionId, burial.BurialId, new(
                        $"All four masses are those of burial {twin.BurialId} of contribution {twin.Header.ContributionId} at site "
                        + $"{twin.SiteKey}."));
                }
            }
        }
    }

    private static HashSet<(string, string)> SitePairs(Burial[] group)
    {
        HashSet<(string, string)> pairs = new();
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

internal sealed record LotDisagreement() : FlagDefinition(
    Copy, "lot-disagreement", Note, RecordKind.Lot,
    "Contributions disagree on the chemistry of a lot. Each contribution is computed with what it states.",
    "the hydrolysable fraction differs by more than 0.0005 from that which most contributions state for the lot.",
    "Compare with the sheet that came with the lot.")
{
    internal override IEnumerable<Flag> Raise(FlagInputs inputs)
    {
        foreach (Contribution contribution in inputs.Contributions)
        {
            foreach (LotRow row in contribution.Lots)
            {
                double usual = inputs.Lots.UsualFraction(row.LotId);
                if (Math.Abs(row.HydrolysableFraction - usual) > 0.0005)
                {
                    yield return FlagOn(contribution.Header.ContributionId, row.LotId, new(
                        $"Hydrolysable fraction {row.HydrolysableFraction}; most contributions state {usual} for this lot.",
                        row.HydrolysableFraction, usual, "1"));
                }
            }
        }
    }
}
