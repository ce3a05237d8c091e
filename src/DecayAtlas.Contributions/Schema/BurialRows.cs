namespace DecayAtlas.Contributions.Schema;

/// <summary>The bags of a burial, each with its lot, and what they give by the usual assumptions.</summary>
/// <param name="Lots">One for each bag; empty where that of any is not among the sound rows.</param>
/// <param name="Weighed">Null where there are no lots: without them nothing can be computed.</param>
public sealed record BurialRows(string BurialId, IReadOnlyList<BagRow> Bags, IReadOnlyList<LotRow> Lots, WeighedBurial? Weighed)
{
    /// <summary>Every burial of the rows, in the order in which they first stand there.</summary>
    public static IReadOnlyList<BurialRows> Of(IEnumerable<BagRow> bags, IEnumerable<LotRow> lots)
    {
        Dictionary<string, LotRow> lotOf = lots.ToDictionary(row => row.LotId);
        return [.. bags.GroupBy(bag => bag.BurialId).Select(own => Of(own.Key, [.. own], lotOf))];
    }

    private static BurialRows Of(string id, BagRow[] bags, Dictionary<string, LotRow> lotOf)
    {
        if (!Array.TrueForAll(bags, bag => lotOf.ContainsKey(bag.LotId)))
            return new BurialRows(id, bags, [], null);
        LotRow[] lots = [.. bags.Select(bag => lotOf[bag.LotId])];
        return new BurialRows(id, bags, lots, WeighedBurial.Of(bags.Zip(lots), MeasurementAssumptions.Default));
    }
}
