namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>The lots and batches that the two bags of a burial belong to: burials that name the same one share its errors.</summary>
public readonly record struct SharedKeys(string FastLot, string SlowLot, string FastBatch, string SlowBatch);

/// <summary>One burial's signed shared errors, with what it shares them with.</summary>
public readonly record struct SharedPart(SharedKeys Keys, SharedErrors Errors)
{
    internal (SharedQuantity Quantity, double Effect)[] Effects =>
    [
        (new(SharedSource.Lot, Keys.FastLot, 0), Errors.Fast.Hydrolysable),
        (new(SharedSource.Lot, Keys.SlowLot, 1), Errors.Slow.Hydrolysable),
        (new(SharedSource.Lot, Keys.FastLot, 2), Errors.Fast.Ash), (new(SharedSource.Lot, Keys.SlowLot, 3), Errors.Slow.Ash),
        (new(SharedSource.Lot, Keys.FastLot, 4), Errors.Fast.Tare), (new(SharedSource.Lot, Keys.SlowLot, 5), Errors.Slow.Tare),
        (new(SharedSource.Lot, Keys.FastLot, 6), Errors.Fast.LotMoisture),
        (new(SharedSource.Lot, Keys.SlowLot, 7), Errors.Slow.LotMoisture),
        (new(SharedSource.Batch, Keys.FastBatch, 0), Errors.Fast.InitialWater),
        (new(SharedSource.Batch, Keys.SlowBatch, 1), Errors.Slow.InitialWater),
        (new(SharedSource.Batch, Keys.FastBatch, 2), Errors.Fast.FinalWater),
        (new(SharedSource.Batch, Keys.SlowBatch, 3), Errors.Slow.FinalWater),
        // one balance weighed both litters
        (new(SharedSource.Batch, Keys.FastBatch, 4), Errors.Fast.Balance),
        (new(SharedSource.Batch, Keys.SlowBatch, 4), Errors.Slow.Balance),
        (new(SharedSource.Batch, Keys.FastBatch, 5, true), Errors.Fast.InitialWaterRange),
        (new(SharedSource.Batch, Keys.SlowBatch, 6, true), Errors.Slow.InitialWaterRange),
        (new(SharedSource.Batch, Keys.FastBatch, 7, true), Errors.Fast.FinalWaterRange),
        (new(SharedSource.Batch, Keys.SlowBatch, 8, true), Errors.Slow.FinalWaterRange),
    ];
}

/// <summary>One quantity that burials share: its number counts those of its lot or batch.</summary>
/// <param name="IsRange">Whether its error is rectangular.</param>
internal readonly record struct SharedQuantity(SharedSource Source, string Key, int Number, bool IsRange = false)
    : IComparable<SharedQuantity>
{
    public int CompareTo(SharedQuantity other) =>
        Source != other.Source ? Source.CompareTo(other.Source)
        : string.CompareOrdinal(Key, other.Key) is not 0 and int byKey ? byKey : Number.CompareTo(other.Number);
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
        SortedDictionary<SharedQuantity, double> sums = new();
        foreach ((SharedPart part, double weight) in parts)
        {
            foreach ((SharedQuantity quantity, double effect) in part.Effects)
                sums[quantity] = sums.GetValueOrDefault(quantity) + weight * effect;
        }

        return new SharedUncertainty(Root(SharedSource.Batch), Root(SharedSource.Lot));

        double Root(SharedSource source) => Math.Sqrt(sums.Where(s => s.Key.Source == source).Sum(s => s.Value * s.Value));
    }
}
