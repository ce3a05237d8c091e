namespace DecayAtlas.Decomposition.Burials;

/// <summary>One burial's signed lot errors, with the lots they belong to.</summary>
public readonly record struct LotSharedPart(string FastLotKey, string SlowLotKey, LotErrors Errors)
{
    internal (string Lot, int Quantity, double Effect)[] Effects =>
    [
        (FastLotKey, 0, Errors.FastHydrolysable), (SlowLotKey, 1, Errors.SlowHydrolysable),
        (FastLotKey, 2, Errors.FastAsh), (SlowLotKey, 3, Errors.SlowAsh),
    ];
}

/// <summary>
/// Uncertainty that a mean over burials inherits from lot chemistry. Averaging does not shrink it where the burials share
/// lots: each lot quantity's signed effects are averaged first, then the lots, being independent, are added in squares.
/// </summary>
public static class LotSharedUncertainty
{
    /// <summary>In the unit of the values; 0 for no burials.</summary>
    public static double OfMean(IReadOnlyList<LotSharedPart> parts) =>
        parts.Count == 0 ? 0 : OfWeightedSum(parts.Select(p => (p, 1.0))) / parts.Count;

    internal static double OfWeightedSum(IEnumerable<(LotSharedPart Part, double Weight)> parts)
    {
        SortedDictionary<(string Lot, int Quantity), double> sums = new(Comparer<(string Lot, int Quantity)>.Create(
            (x, y) => string.CompareOrdinal(x.Lot, y.Lot) is not 0 and int byLot ? byLot : x.Quantity.CompareTo(y.Quantity)));
        foreach ((LotSharedPart part, double weight) in parts)
        {
            foreach ((string lot, int quantity, double effect) in part.Effects)
                sums[(lot, quantity)] = sums.GetValueOrDefault((lot, quantity)) + weight * effect;
        }

        double squares = 0;
        foreach (double sum in sums.Values)
            squares += sum * sum;
        return Math.Sqrt(squares);
    }
}
