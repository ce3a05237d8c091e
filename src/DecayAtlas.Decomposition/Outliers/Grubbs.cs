using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Outliers;

/// <param name="Index">Of the value farthest from the mean.</param>
/// <param name="Statistic">Its distance in standard deviations.</param>
/// <param name="Critical">Two-sided.</param>
public sealed record GrubbsResult(int Index, double Statistic, double Critical, bool IsOutlier);

/// <summary>Grubbs' test for one outlier in a small normal sample.</summary>
/// <remarks><c>T = max|x - mean|/s</c> against <c>(n - 1)/√n · √(t²/(n - 2 + t²))</c>, t on n - 2 degrees of freedom at 1 - α/n for one
/// side, 1 - α/(2n) for two. Source: Grubbs 1950, Annals of Mathematical Statistics 21:27-58; critical values as in ASTM E178, table 1. Two
/// outliers on one side can hide each other: use <see cref="GeneralisedEsd"/> from 15 values on. At n = 3 T can't exceed 1.1547, so that
/// the test says next to nothing.</remarks>
public static class Grubbs
{
    public static Answer<GrubbsResult> Of(IReadOnlyList<double> values, double level = 0.05)
    {
        if (values.Any(v => !double.IsFinite(v)))
            return Unanswered.NotFinite("values");
        if (values.Count < 3)
            return Unanswered.TooFew("values", values.Count, 3);
        SampleSummary s = SampleSummary.Of([.. values.Order()])!;
        if (!(s.Sd > 0))
            return Unanswered.NoScatter("values");
        int index = Enumerable.Range(0, values.Count).MaxBy(i => Math.Abs(values[i] - s.Mean));
        double statistic = Math.Abs(values[index] - s.Mean) / s.Sd.Value, critical = Critical(values.Count, level / 2);
        return new GrubbsResult(index, statistic, critical, statistic > critical);
    }

    /// <summary>One-sided.</summary>
    public static double Critical(int n, double level)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 3);
        double t = StudentT.InvCDF(0, 1, n - 2, 1 - level / n);
        return (n - 1) / Math.Sqrt(n) * Math.Sqrt(t * t / (n - 2 + t * t));
    }
}
