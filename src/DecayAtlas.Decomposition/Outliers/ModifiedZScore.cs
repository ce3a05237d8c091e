using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Outliers;

/// <summary>What scale the scores were made with.</summary>
public enum RobustScale
{
    MedianAbsoluteDeviation,

    /// <summary>More than half of the values are equal, so that the median deviation is zero.</summary>
    MeanAbsoluteDeviation,
}

/// <summary>Modified z-scores M of a sample, in the order given.</summary>
public sealed record ModifiedScores(IReadOnlyList<double> Scores, double Median, RobustScale ScaleUsed);

/// <summary>
/// Modified z-scores: <c>M = (x - median)/(1.4826 b_n MAD)</c>; by convention |M| &gt; 3.5 marks an outlier.
/// </summary>
/// <remarks>Source: Iglewicz and Hoaglin 1993, How to Detect and Handle Outliers (M = 0.6745 (x - median)/MAD, cut-off 3.5). In small
/// samples MAD is too small on the average; b_n (Croux and Rousseeuw 1992, COMPSTAT 1:411-428) mends its mean, not its scatter: at 3.5 some
/// value is marked in 15 % of normal samples of 5 and still in 8 % of samples of 20. <see cref="CutOffFor"/> gives the cut-off for a stated
/// share. Where MAD = 0 the mean absolute deviation takes its place, <c>M = (x - median)/(1.2533 MeanAD)</c> (common practice, no source),
/// and no cut-off is calibrated.</remarks>
public static class ModifiedZScore
{
    /// <summary>Fewest values for scores: with fewer, MAD is the distance of two values.</summary>
    public const int FewestValues = 5;

    // the largest |M| of a normal sample: 95, 97.5, 99 and 99.5 % points, simulated in R (400,000 samples up to n = 20, 100,000 beyond)
    private static readonly (int N, double Five, double TwoAndHalf, double One, double Half)[] Simulated =
    [
        (5, 6.56, 9.55, 15.44, 22.00), (6, 4.62, 6.02, 8.39, 10.75), (7, 5.14, 6.70, 9.40, 12.11), (8, 4.35, 5.37, 7.03, 8.54),
        (9, 4.60, 5.72, 7.45, 9.04), (10, 4.22, 5.07, 6.39, 7.54), (11, 4.34, 5.22, 6.54, 7.71), (12, 4.07, 4.80, 5.89, 6.81),
        (13, 4.17, 4.91, 5.99, 6.92), (14, 3.99, 4.62, 5.53, 6.29), (15, 4.04, 4.70, 5.65, 6.43), (16, 3.92, 4.50, 5.31, 6.00),
        (17, 3.97, 4.55, 5.38, 6.06), (18, 3.87, 4.40, 5.15, 5.78), (19, 3.91, 4.46, 5.22, 5.83), (20, 3.84, 4.34, 5.03, 5.57),
        (25, 3.82, 4.27, 4.86, 5.31), (30, 3.75, 4.13, 4.64, 5.04), (40, 3.70, 4.04, 4.50, 4.86), (50, 3.69, 3.99, 4.39, 4.71),
        (100, 3.72, 3.96, 4.25, 4.48),
    ];

    internal const double NormalMad = 1.482602218505602;       // 1/Φ⁻¹(3/4)
    private static readonly double[] SmallSample = [1.196, 1.495, 1.363, 1.206, 1.200, 1.140, 1.129, 1.107];   // n = 2 … 9

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
            [.. values.Select(v => (v - median) / scale)], median,
            mad > 0 ? RobustScale.MedianAbsoluteDeviation : RobustScale.MeanAbsoluteDeviation);
    }

    /// <summary>
    /// The |M| beyond which a share of normal samples of n hold some value; between the sizes simulated, by straight line; from 100 values
    /// on the normal quantile for n values (Šidák), never below that of 100.
    /// </summary>
    /// <param name="level">That share: 0.05, 0.025, 0.01 or 0.005.</param>
    public static double CutOffFor(int n, double level = 0.05)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, FewestValues);
        double At(int i) => level switch
        {
            0.05 => Simulated[i].Five,
            0.025 => Simulated[i].TwoAndHalf,
            0.01 => Simulated[i].One,
            0.005 => Simulated[i].Half,
            _ => throw new ArgumentOutOfRangeException(nameof(level), level, "no cut-off was simulated for this level"),
        };
        if (n >= 100)
            return Math.Max(At(Simulated.Length - 1), Normal.InvCDF(0, 1, 0.5 + 0.5 * Math.Pow(1 - level, 1.0 / n)));
        int above = Array.FindIndex(Simulated, s => s.N >= n);
        if (Simulated[above].N == n)
            return At(above);
        double share = (double)(n - Simulated[above - 1].N) / (Simulated[above].N - Simulated[above - 1].N);
        return At(above - 1) + share * (At(above) - At(above - 1));
    }

    internal static double SmallSampleFactor(int n) => n <= 9 ? SmallSample[n - 2] : n / (n - 0.8);

    internal static double Median(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        int middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
