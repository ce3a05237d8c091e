namespace DecayAtlas.Decomposition.Variance;

/// <summary>Sums values up by finest unit and fixed effects.</summary>
internal static class NestedCells
{
    /// <summary>One cell a finest unit and row of X, in order of their names; sums are taken in a fixed order.</summary>
    public static DesignCell[] Of(IReadOnlyList<DesignCell> values) =>
    [
        .. values
            .GroupBy(v => (string.Join('\u001f', v.Units), string.Join(',', v.FixedEffects.Select(BitConverter.DoubleToInt64Bits))))
            .OrderBy(g => g.Key.Item1, StringComparer.Ordinal).ThenBy(g => g.Key.Item2, StringComparer.Ordinal)
            .Select(g => g.OrderBy(c => c.Mean).ThenBy(c => c.Count).ThenBy(c => c.SumOfSquares).Aggregate(Together)),
    ];

    /// <summary>How many units there are at a level.</summary>
    public static int UnitsAt(IReadOnlyList<DesignCell> cells, int level) =>
        cells.Select(c => string.Join('\u001f', c.Units.Take(level + 1))).Distinct(StringComparer.Ordinal).Count();

    // Chan, Golub and LeVeque 1983, American Statistician 37:242-247
    private static DesignCell Together(DesignCell x, DesignCell y)
    {
        int n = x.Count + y.Count;
        double apart = y.Mean - x.Mean;
        return x with
        {
            Count = n,
            Mean = apart == 0 ? x.Mean : x.Mean + apart * y.Count / n,
            SumOfSquares = x.SumOfSquares + y.SumOfSquares + apart * apart * x.Count * y.Count / n,
        };
    }
}
