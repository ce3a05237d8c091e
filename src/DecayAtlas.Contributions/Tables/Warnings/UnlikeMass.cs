namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>A mass of a bag that no bag of its lot has, and that no decimal sign and no exchange explains: a digit that was lost, as 0.89
/// for 3.89. It is the one to look at, and not what hangs on it.</summary>
/// <param name="Expected">What a bag of the lot weighs at first, or the most or least that it weighs at last (g).</param>
internal sealed record UnlikeMass(bool IsFinal, double Found, double Expected)
{
    // at last a bag may hold water and soil beside its litter (common practice, no source)
    private const double MostGained = 1.5;

    public static UnlikeMass? Of(BagRow bag, LotRow lot)
    {
        if ((bag.MassBasis == MassBasis.Litter ? 0 : lot.TareGrams) is not { } tare || bag.MassInitialGrams is not { } first
            || lot.LitterMassNominalGrams is not (> 0 and { } nominal) || SwappedWeighings.Are(bag, lot)
            || TenfoldMass.Of(tare, nominal, lot.HydrolysableFraction, first, bag.MassFinalGrams).Count > 0)
        {
            return null;
        }
        if (!TenfoldMass.IsNominal(first - tare, nominal))
            return new UnlikeMass(false, first, nominal + tare);
        double litter = first - tare;
        return bag.Condition == BagCondition.Lost || bag.MassFinalGrams is not { } last ? null
            : TenfoldMass.IsGone(last - tare, litter, lot.HydrolysableFraction)
                ? new UnlikeMass(true, last, tare + TenfoldMass.LeastLeft(litter, lot.HydrolysableFraction))
            : last - tare > MostGained * litter ? new UnlikeMass(true, last, first) : null;
    }

    /// <summary>Lots of which half the bags or more are unlike: then it is what is said of the lot that is off, which the gate
    /// tells.</summary>
    public static HashSet<string> LotsOfOthers(IReadOnlyList<BagRow> bags, IReadOnlyDictionary<string, LotRow> lots) =>
    [
        .. bags.GroupBy(bag => bag.LotId).Where(own => lots.TryGetValue(own.Key, out LotRow? lot) && own.Count() > 2
            && 2 * own.Count(bag => Of(bag, lot) is not null) >= own.Count()).Select(own => own.Key),
    ];
}
