namespace DecayAtlas.Pages.Charts;

/// <summary>Quantiles of a list by straight lines between order statistics (Hyndman and Fan 1996, type 7).</summary>
public static class Quantiles
{
    /// <summary>The quantile of values in rising order; NaN for none.</summary>
    public static double Of(IReadOnlyList<double> sorted, double share)
    {
        if (sorted.Count == 0)
            return double.NaN;
        double place = share * (sorted.Count - 1);
        int below = Math.Min((int)place, Math.Max(0, sorted.Count - 2));
        return sorted.Count == 1 ? sorted[0] : sorted[below] + (place - below) * (sorted[below + 1] - sorted[below]);
    }

    /// <summary>Values in rising order.</summary>
    public static double[] Sort(IEnumerable<double> values) => [.. values.Order()];
}
