using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What was sent twice, or copied from one place to another.</summary>
internal static class CopyFlags
{
    /// <summary>A balance this fine or finer tells four masses apart well enough that one agreeing burial is no accident (g).</summary>
    internal const double TellingResolutionGrams = 0.01;

    public static IReadOnlyList<FlagDefinition> All => [new BagRepeated(), new MassesRepeated(), new BurialAgain(), new LotDisagreement()];

    /// <summary>The four masses of a whole pair (g), where all were sent.</summary>
    internal static (double, double, double, double)? MassesOf(Burial burial) =>
        burial is
        {
            Fast.Row: { MassInitialGrams: { } a, MassFinalGrams: { } b },
            Slow.Row: { MassInitialGrams: { } c, MassFinalGrams: { } d }
        }
            ? (a, b, c, d)
            : null;

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
    // all that tells one bag from another, but for its id
    internal static (string, string?, string?, LitterRole?, string, DateOnly?, DateOnly?, double?, double?) WhatIsRepeated(Bag bag) =>
        (bag.SiteKey, bag.Row.Plot, bag.Row.Replicate, bag.Row.Role, bag.Row.LotId, bag.Row.BuriedOn, bag.Row.RetrievedOn,
            bag.Row.MassInitialGrams, bag.Row.MassFinalGrams);

    // replicates without a number may agree by chance: only a fine balance, or another contribution, makes one a copy
    internal override IEnumerable<Flag> Raise(FlagInputs inputs) =>
        from same in inputs.Bags.Where(b => b.Row is { MassInitialGrams: not null, MassFinalGrams: not null })
            .GroupBy(WhatIsRepeated)
        let earlier = same.First()
        from bag in same.Skip(1)
        where bag.Row.Replicate is not null
            || bag.Row.BalanceResolutionGrams is <= CopyFlags.TellingResolutionGrams / 10
            || earlier.Header.ContributionId != bag.Header.ContributionId
        select FlagOn(bag.Header.ContributionId, bag.Row.BagId, new(
            $"Same site, lot, dates and masses as bag {earlier.Row.BagId} of contribution {earlier.Header.ContributionId}."));
}

internal sealed record BurialAgain() : FlagDefinition(
    Copy, "burial-again", Note, RecordKind.Burial,
    "An earlier contribution of the same group holds a burial at this place with the same first masses, buried on the same day, and the "
    + "two say otherwise of it. One mends the other, and both count.",
    "contributor, coordinates, day of burying and both initial masses equal those of a burial of another "
    + "contribution, which was created earlier or whose id comes first; balances are not coarser than 0.01 g. A bag that was sent again "
    + "without any change is bag-repeated.",
    "Send what was mended as a higher revision of the earlier contribution, with all its rows, and withdraw the other.")
{
    public override bool AsksForALook => true;

    internal override IEnumerable<Flag> Raise(FlagInputs inputs)
    {
        Dictionary<string, string> places = inputs.Sites.ToDictionary(site => site.Key, site => string.Create(InvariantCulture,
            $"{site.Row.DecimalLatitude} {site.Row.DecimalLongitude}"), StringComparer.Ordinal);
        return
            from same in inputs.Burials
                .Where(b => b.Fast?.Row is { MassInitialGrams: not null } && b.Slow?.Row.MassInitialGrams is not null
                    && !IsCoarse(b.Fast) && !IsCoarse(b.Slow))
                .GroupBy(b => (b.Header.ContributorId, places.GetValueOrDefault(b.SiteKey, b.SiteKey), b.Fast!.Row.BuriedOn,
                    b.Fast.Row.MassInitialGrams, b.Slow!.Row.MassInitialGrams))
            let first = same.MinBy(b => b.Header.Created ?? DateOnly.MinValue)!
            from burial in same
            where burial.Header.ContributionId != first.Header.ContributionId && !(IsCopy(burial.Fast!, first.Fast!)
                && IsCopy(burial.Slow!, first.Slow!))
            select FlagOn(burial.Header.ContributionId, burial.BurialId, new(
                $"Place, day of burying and first masses are those of burial {first.BurialId} of contribution "
                + $"{first.Header.ContributionId}."));
    }

    private static bool IsCoarse(Bag bag) => bag.Row.BalanceResolutionGrams > CopyFlags.TellingResolutionGrams;

    private static bool IsCopy(Bag bag, Bag earlier) => BagRepeated.WhatIsRepeated(bag) == BagRepeated.WhatIsRepeated(earlier);
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

        Dictionary<(string, string), int> groupsInCommon = groups.SelectMany(SitePairs).CountBy(pair => pair).ToDictionary();
        return
            from same in groups
            from burial in same
            let twin = same.FirstOrDefault(other => other.SiteKey != burial.SiteKey
                && (CopyFlags.IsTelling(burial) && CopyFlags.IsTelling(other) || groupsInCommon[PairOf(burial.SiteKey, other.SiteKey)] > 1))
            where twin is not null
            select FlagOn(burial.Header.ContributionId, burial.BurialId, new(
                $"All four masses are those of burial {twin.BurialId} of contribution {twin.Header.ContributionId} at site "
                + $"{twin.SiteKey}."));
    }

    private static IEnumerable<(string, string)> SitePairs(Burial[] group)
    {
        string[] sites = [.. group.Select(b => b.SiteKey).Distinct(StringComparer.Ordinal)];
        return from a in sites from b in sites where string.CompareOrdinal(a, b) < 0 select (a, b);
    }

    private static (string, string) PairOf(string a, string b) => string.CompareOrdinal(a, b) < 0 ? (a, b) : (b, a);
}

internal sealed record LotDisagreement() : FlagDefinition(
    Copy, "lot-disagreement", Note, RecordKind.Lot,
    "Contributions disagree on the chemistry of a lot. Each contribution is computed with what it states.",
    "the hydrolysable fraction differs by more than 0.0005 from that which most contributions state for the lot.",
    "Compare with the sheet that came with the lot.")
{
    internal override IEnumerable<Flag> Raise(FlagInputs inputs) =>
        from contribution in inputs.Contributions
        from row in contribution.Lots
        let usual = inputs.Lots.UsualFraction(row.LotId)
        where Math.Abs(row.HydrolysableFraction - usual) > 0.0005
        select FlagOn(contribution.Header.ContributionId, row.LotId, new(
            $"Hydrolysable fraction {row.HydrolysableFraction}; most contributions state {usual} for this lot.",
            row.HydrolysableFraction, usual, "1"));
}
