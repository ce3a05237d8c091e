using MathNet.Numerics.Statistics;

namespace DecayAtlas.Pages.Charts;

/// <summary>Quantiles of a list by straight lines between order statistics (Hyndman and Fan 1996, type 7).</summary>
public static class Quantiles
{
    /// <summary>The quantile of values in rising order; NaN for none.</summary>
    public static double Of(double[] sorted, double share) => SortedArrayStatistics.QuantileCustom(sorted, share, QuantileDefinition.R7);

    /// <summary>Values in rising order.</summary>
    public static double[] Sort(IEnumerable<double> values) => [.. values.Order()];
}
