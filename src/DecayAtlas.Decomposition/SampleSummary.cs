using System.Collections.Concurrent;
using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition;

/// <summary>Mean, scatter and t interval of a handful of values.</summary>
/// <param name="Sd">Over n - 1; missing for a single value.</param>
/// <param name="Lower95">Lower end of the 95 % interval of the mean, mean - t(0.975, n - 1) sd/√n; missing for a single value.</param>
/// <remarks>Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2 (confidence limits for the mean).</remarks>
public sealed record SampleSummary(int Count, double Mean, double? Sd, double? Lower95, double? Upper95)
{
    private static readonly ConcurrentDictionary<int, double> StudentT975 = new();

    /// <summary>Summarises values in the order given; <see langword="null"/> for none.</summary>
    public static SampleSummary? Of(IReadOnlyList<double> values)
    {
        int n = values.Count;
        if (n == 0)
            return null;

        double sum = 0;
        foreach (double x in values)
            sum += x;
        double mean = sum / n;
        if (n == 1)
            return new SampleSummary(1, mean, null, null, null);

        double squares = 0;
        foreach (double x in values)
            squares += (x - mean) * (x - mean);
        double sd = Math.Sqrt(squares / (n - 1));
        double half = StudentT975.GetOrAdd(n - 1, df => StudentT.InvCDF(0, 1, df, 0.975)) * sd / Math.Sqrt(n);
        return new SampleSummary(n, mean, sd, mean - half, mean + half);
    }
}
