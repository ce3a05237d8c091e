namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>The lots and batches that the two bags of a burial belong to: burials that name the same one share its errors.</summary>
public readonly record struct SharedKeys(string FastLot, string SlowLot, string FastBatch, string SlowBatch);

/// <summary>One burial's signed shared errors, with what it shares them with.</summary>
public readonly record struct SharedPart(SharedKeys Keys, SharedErrors Errors)
{
    internal (SharedSource Source, string Key, int Quantity, double Effect)[] Effects =>
    [
        (SharedSource.Lot, Keys.FastLot, 0, Errors.Fast.Hydrolysable), (SharedSource.Lot, Keys.SlowLot, 1, Errors.Slow.Hydrolysable),
        (SharedSource.Lot, Keys.FastLot, 2, Errors.Fast.Ash), (SharedSource.Lot, Keys.SlowLot, 3, Errors.Slow.Ash),
        (SharedSource.Lot, Keys.FastLot, 4, Errors.Fast.Tare), (SharedSource.Lot, Keys.SlowLot, 5, Errors.Slow.Tare),
        (SharedSource.Lot, Keys.FastLot, 6, Errors.Fast.LotMoisture), (SharedSource.Lot, Keys.SlowLot, 7, Errors.Slow.LotMoisture),
        (SharedSource.Batch, Keys.FastBatch, 0, Errors.Fast.InitialWater),
        (SharedSource.Batch, Keys.SlowBatch, 1, Errors.Slow.InitialWater),
        (SharedSource.Batch, Keys.FastBatch, 2, Errors.Fast.FinalWater), (SharedSource.Batch, Keys.SlowBatch, 3, Errors.Slow.FinalWater),
        // one balance weighed both litters
        (SharedSource.Batch, Keys.FastBatch, 4, Errors.Fast.Balance), (SharedSource.Batch, Keys.SlowBatch, 4, Errors.Slow.Balance),
    ];
}

/// <summary>What burials share an error through.</summary>
internal enum SharedSource
{
    Lot,
    Batch,
}

/// <summary>Standard uncertainty that a mean inherits from what its burials share, in the unit of the values.</summary>
public readonly record struct SharedUncertainty(double Batch, double Lot)
{
    /// <summary>
    /// Averaging does not shrink what burials share: each shared quantity's signed effects are averaged first, then the quantities, being
    /// independent, are added in squares. 0 for no burials.
    /// </summary>
    public static SharedUncertainty OfMean(IReadOnlyList<SharedPart> parts) =>
        OfWeightedSum(parts.Select(p => (p, 1.0 / parts.Count)));

    internal static SharedUncertainty OfWeightedSum(IEnumerable<(SharedPart Part, double Weight)> parts)
    {
        SortedDictionary<(SharedSource Source, string Key, int Quantity), double> sums = new(Comparer<(SharedSource, string, int)>.Create(
            (x, y) => x.Item1 != y.Item1 ? x.Item1.CompareTo(y.Item1)
                : string.CompareOrdinal(x.Item2, y.Item2) is not 0 and int byKey ? byKey : x.Item3.CompareTo(y.Item3)));
        foreach ((SharedPart part, double weight) in parts)
        {
            foreach ((SharedSource source, string key, int quantity, double effect) in part.Effects)
                sums[(source, key, quantity)] = sums.GetValueOrDefault((source, key, quantity)) + weight * effect;
        }

        return new SharedUncertainty(Root(sums, SharedSource.Batch), Root(sums, SharedSource.Lot));
    }

    private static double Root(SortedDictionary<(SharedSource Source, string, int), double> sums, SharedSource source)
    {
        double squares = 0;
        foreach (((SharedSource of, _, _), double sum) in sums)
            squares += of == source ? sum * sum : 0;
        return Math.Sqrt(squares);
    }
}
