namespace DecayAtlas.Decomposition.Burials;

/// <summary>One burial's signed lot errors, with the lots they belong to.</summary>
public readonly record struct LotSharedPart(string FastLotKey, string SlowLotKey, LotErrors Errors);

/// <summary>
/// Uncertainty that a mean over burials inherits from lot chemistry. Averaging does not shrink it where the burials share
/// lots: each lot quantity's signed effects are averaged first, then the lots, being independent, are added in squares.
/// </summary>
public static class LotSharedUncertainty
{
    /// <summary>Standard uncertainty of the mean from lot chemistry, in the unit of the values; 0 for no burials.</summary>
    public static double OfMean(IReadOnlyList<LotSharedPart> parts) =>
        parts.Count == 0 ? 0 : WeightedRoot(parts.Select(p => (p, 1.0))) / parts.Count;

    /// <summary>Standard uncertainty of a weighted mean from lot chemistry; the weights sum to 1.</summary>
    public static double OfWeightedMean(IReadOnlyList<(LotSharedPart Part, double Weight)> parts) => WeightedRoot(parts);

    private static double WeightedRoot(IEnumerable<(LotSharedPart Part, double Weight)> parts)
    {
        SortedDictionary<(string Lot, int Quantity), double> sums = new(LotQuantityOrder.Instance);
        foreach ((LotSharedPart part, double weight) in parts)
        {
            Add((part.FastLotKey, 0), weight * part.Errors.FastHydrolysable);
            Add((part.SlowLotKey, 1), weight * part.Errors.SlowHydrolysable);
            Add((part.FastLotKey, 2), weight * part.Errors.FastAsh);
            Add((part.SlowLotKey, 3), weight * part.Errors.SlowAsh);
        }

        double squares = 0;
        foreach (double sum in sums.Values)
            squares += sum * sum;
        return Math.Sqrt(squares);

        void Add((string, int) key, double value) => sums[key] = sums.GetValueOrDefault(key) + value;
    }

    private sealed class LotQuantityOrder : IComparer<(string Lot, int Quantity)>
    {
        public static LotQuantityOrder Instance { get; } = new();

        public int Compare((string Lot, int Quantity) x, (string Lot, int Quantity) y)
        {
            int byLot = string.CompareOrdinal(x.Lot, y.Lot);
            return byLot != 0 ? byLot : x.Quantity.CompareTo(y.Quantity);
        }
    }
}
