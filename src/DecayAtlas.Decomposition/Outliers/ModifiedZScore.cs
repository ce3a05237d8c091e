namespace DecayAtlas.Decomposition.Outliers;

/// <summary>What scale the scores were made with.</summary>
public enum RobustScale
{
    /// <summary>Median absolute deviation.</summary>
    MedianAbsoluteDeviation,

    /// <summary>Mean absolute deviation from the median: more than half of the values are equal, so that the median one is zero.</summary>
    MeanAbsoluteDeviation,
}

/// <summary>Modified z-scores of a sample.</summary>
/// <param name="Scores">M of each value, in the order given.</param>
/// <param name="Median">Median.</param>
/// <param name="Scale">Robust standard deviation the scores are in.</param>
/// <param name="ScaleUsed">How it was made.</param>
public sealed record ModifiedScores(IReadOnlyList<double> Scores, double Median, double Scale, RobustScale ScaleUsed);

/// <summary>
/// Modified z-scores: <c>M = (x - median)/(1.4826 b_n MAD)</c>; |M| &gt; 3.5 marks an outlier.
/// </summary>
/// <remarks>
/// Source: Iglewicz and Hoaglin 1993, How to Detect and Handle Outliers (M = 0.6745 (x - median)/MAD, cut-off 3.5). In small samples MAD is too small on the
/// average; b_n (Croux and Rousseeuw 1992, COMPSTAT 1:411-428) mends its mean, not its scatter. Without it, normal samples of five are
/// flagged about twice as often. Where MAD = 0 the mean absolute deviation takes its place, <c>M = (x - median)/(1.2533 MeanAD)</c> (common practice, no source).
/// </remarks>
public static class ModifiedZScore
{
    /// <summary>Fewest values for scores: with fewer, MAD is the distance of two values.</summary>
    public const int FewestValues = 5;

    /// <summary>The cut-off of Iglewicz and Hoaglin.</summary>
    public const double CutOff = 3.5;

    private const double NormalMad = 1.482602218505602;       // 1/Φ⁻¹(3/4)
    private static readonly double[] SmallSample = [1.196, 1.495, 1.363, 1.206, 1.200, 1.140, 1.129, 1.107];   // n = 2 … 9

    /// <summary>Scores all values.</summary>
    public static Answer<ModifiedScores> Of(IReadOnlyList<double> values)
    {
        if (values.Any(v => !double.IsFinite(v)))
            return Unanswered.NotFinite("values");
        int n = values.Count;
        if (n < FewestValues)
            return Unanswered.TooFew("values", n, FewestValues);
        double median = Median(values);
        double mad = Median([.. values.Select(v => Math.Abs(v - median))]);
        double mean = values.Select(v => Math.Abs(v - median)).Order().Sum() / n;
        if (!(mean > 0))
            return Unanswered.NoScatter("values");
        double scale = mad > 0 ? NormalMad * SmallSampleFactor(n) * mad : Math.Sqrt(Math.PI / 2) * mean;
        return new ModifiedScores(
            [.. values.Select(v => (v - median) / scale)], median, scale,
            mad > 0 ? RobustScale.MedianAbsoluteDeviation : RobustScale.MeanAbsoluteDeviation);
    }

    internal static double SmallSampleFactor(int n) => n <= 9 ? SmallSample[n - 2] : n / (n - 0.8);

    internal static double Median(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        int middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
