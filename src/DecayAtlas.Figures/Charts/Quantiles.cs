namespace DecayAtlas.Figures.Charts;

/// <summary>Quantiles of a list by straight lines between order statistics (Hyndman and Fan 1996, type 7).</summary>
public static class Quantiles
{
    /// <summary>The quantile of values in rising order; NaN for none.</summary>
    public static double Of(double[] sorted, double share)
    {
        if (sorted.Length == 0)
            return double.NaN;
        double place = share * (sorted.Length - 1);
        int below = (int)place;
        return sorted[below] + (place - below) * (sorted[Math.Min(below + 1, sorted.Length - 1)] - sorted[below]);
    }

    public static double[] Sort(IEnumerable<double> values) => [.. values.Order()];
}
