namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>The lots and batches that the two bags of a burial belong to: burials that name the same one share its errors.</summary>
public readonly record struct SharedKeys(string FastLot, string SlowLot, string FastBatch, string SlowBatch)
{
    /// <summary>All of them in one text.</summary>
    public string ErrorSet => FastBatch == SlowBatch ? $"{FastLot}|{SlowLot}|{FastBatch}" : $"{FastLot}|{SlowLot}|{FastBatch}|{SlowBatch}";
}

/// <summary>One burial's signed shared errors, with what it shares them with.</summary>
public readonly record struct SharedPart(SharedKeys Keys, SharedErrors Errors)
{
    internal (SharedQuantity Quantity, double Effect)[] Effects =>
    [
        (new(SharedSource.Lot, Keys.FastLot, SharedName.FastHydrolysable), Errors.Fast.Hydrolysable),
        (new(SharedSource.Lot, Keys.SlowLot, SharedName.SlowHydrolysable), Errors.Slow.Hydrolysable),
        (new(SharedSource.Lot, Keys.FastLot, SharedName.FastAsh), Errors.Fast.Ash),
        (new(SharedSource.Lot, Keys.SlowLot, SharedName.SlowAsh), Errors.Slow.Ash),
        (new(SharedSource.Lot, Keys.FastLot, SharedName.FastTare), Errors.Fast.Tare),
        (new(SharedSource.Lot, Keys.SlowLot, SharedName.SlowTare), Errors.Slow.Tare),
        (new(SharedSource.Lot, Keys.FastLot, SharedName.FastLotMoisture), Errors.Fast.LotMoisture),
        (new(SharedSource.Lot, Keys.SlowLot, SharedName.SlowLotMoisture), Errors.Slow.LotMoisture),
        (new(SharedSource.Batch, Keys.FastBatch, SharedName.FastInitialWater), Errors.Fast.InitialWater),
        (new(SharedSource.Batch, Keys.SlowBatch, SharedName.SlowInitialWater), Errors.Slow.InitialWater),
        (new(SharedSource.Batch, Keys.FastBatch, SharedName.FastFinalWater), Errors.Fast.FinalWater),
        (new(SharedSource.Batch, Keys.SlowBatch, SharedName.SlowFinalWater), Errors.Slow.FinalWater),
        // one balance weighed both litters
        (new(SharedSource.Batch, Keys.FastBatch, SharedName.Balance), Errors.Fast.Balance),
        (new(SharedSource.Batch, Keys.SlowBatch, SharedName.Balance), Errors.Slow.Balance),
        (new(SharedSource.Batch, Keys.FastBatch, SharedName.FastInitialWaterRange), Errors.Fast.InitialWaterRange),
        (new(SharedSource.Batch, Keys.SlowBatch, SharedName.SlowInitialWaterRange), Errors.Slow.InitialWaterRange),
        (new(SharedSource.Batch, Keys.FastBatch, SharedName.FastFinalWaterRange), Errors.Fast.FinalWaterRange),
        (new(SharedSource.Batch, Keys.SlowBatch, SharedName.SlowFinalWaterRange), Errors.Slow.FinalWaterRange),
    ];
}

/// <summary>One quantity that burials share.</summary>
/// <param name="Key">Of the lot or batch.</param>
public readonly record struct SharedQuantity(SharedSource Source, string Key, SharedName Name) : IComparable<SharedQuantity>
{
    /// <summary>Whether its error is rectangular.</summary>
    public bool IsRange => Name >= SharedName.FastInitialWaterRange;

    public int CompareTo(SharedQuantity other) =>
        Source != other.Source ? Source.CompareTo(other.Source)
        : string.CompareOrdinal(Key, other.Key) is not 0 and int byKey ? byKey : Name.CompareTo(other.Name);

    public static bool operator <(SharedQuantity a, SharedQuantity b) => a.CompareTo(b) < 0;

    public static bool operator >(SharedQuantity a, SharedQuantity b) => a.CompareTo(b) > 0;

    public static bool operator <=(SharedQuantity a, SharedQuantity b) => a.CompareTo(b) <= 0;

    public static bool operator >=(SharedQuantity a, SharedQuantity b) => a.CompareTo(b) >= 0;
}

/// <summary>What burials share an error through.</summary>
public enum SharedSource
{
    Lot,
    Batch,
}

/// <summary>The quantities that burials can share: those of <see cref="LitterErrors"/> by litter, one balance for both.</summary>
public enum SharedName
{
    FastHydrolysable,
    SlowHydrolysable,
    FastAsh,
    SlowAsh,
    FastTare,
    SlowTare,
    FastLotMoisture,
    SlowLotMoisture,
    FastInitialWater,
    SlowInitialWater,
    FastFinalWater,
    SlowFinalWater,
    Balance,
    FastInitialWaterRange,
    SlowInitialWaterRange,
    FastFinalWaterRange,
    SlowFinalWaterRange,
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
