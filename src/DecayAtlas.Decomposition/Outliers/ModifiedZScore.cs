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
/// Modified z-scores: <c>M = (x - median)/(1.4826 b_n MAD)</c>; by convention |M| &gt; 3.5 marks an outlier.
/// </summary>
/// <remarks>
/// Source: Iglewicz and Hoaglin 1993, How to Detect and Handle Outliers (M = 0.6745 (x - median)/MAD, cut-off 3.5). In small samples MAD is too small on the
/// average; b_n (Croux and Rousseeuw 1992, COMPSTAT 1:411-428) mends its mean, not its scatter: at 3.5 some value is marked in 15 % of normal samples of 5 and
/// still in 8 % of samples of 20. <see cref="CutOffFor"/> gives the cut-off that marks something in 5 % (or 1 %) of normal samples of n.
/// Where MAD = 0 the mean absolute deviation takes its place, <c>M = (x - median)/(1.2533 MeanAD)</c> (common practice, no source), and no cut-off is calibrated.
/// </remarks>
public static class ModifiedZScore
{
    /// <summary>Fewest values for scores: with fewer, MAD is the distance of two values.</summary>
    public const int FewestValues = 5;

    /// <summary>The cut-off of Iglewicz and Hoaglin.</summary>
    public const double CutOff = 3.5;

    // the largest |M| of a normal sample: 95 % and 99 % points, simulated in R (400,000 samples each up to n = 20, 100,000 beyond)
    private static readonly (int N, double Five, double One)[] Simulated =
    [
        (5, 6.56, 15.44), (6, 4.62, 8.39), (7, 5.14, 9.40), (8, 4.35, 7.03), (9, 4.60, 7.45), (10, 4.22, 6.39), (11, 4.34, 6.54), (12, 4.07, 5.89),
        (13, 4.17, 5.99), (14, 3.99, 5.53), (15, 4.04, 5.65), (16, 3.92, 5.31), (17, 3.97, 5.38), (18, 3.87, 5.15), (19, 3.91, 5.22), (20, 3.84, 5.03),
        (25, 3.82, 4.86), (30, 3.75, 4.64), (40, 3.70, 4.50), (50, 3.69, 4.39), (100, 3.72, 4.25),
    ];

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

    /// <summary>
    /// The |M| beyond which 5 % (or, strictly, 1 %) of normal samples of n hold some value; between the sizes simulated, by straight line; from 100 values on
    /// the normal quantile for n values (Šidák), never below that of 100.
    /// </summary>
    public static double CutOffFor(int n, bool isStrict = false)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, FewestValues);
        double At(int i) => isStrict ? Simulated[i].One : Simulated[i].Five;
        if (n >= 100)
            return Math.Max(At(Simulated.Length - 1), MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, 0.5 + 0.5 * Math.Pow(isStrict ? 0.99 : 0.95, 1.0 / n)));
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
