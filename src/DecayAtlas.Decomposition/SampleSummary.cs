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

    /// <summary>The same without some of its values; <see langword="null"/> where none is left. Exact but for rounding: squares about the
    /// old mean are taken off, and what is left is moved to the new one.</summary>
    /// <remarks>Σ(x - m')² = Σ(x - m)² - n'(m' - m)², over the n' values that are left.</remarks>
    /// <exception cref="ArgumentException">More values are to be taken off than there are.</exception>
    public SampleSummary? Without(IReadOnlyList<double> values)
    {
        int left = Count - values.Count;
        if (left < 0)
            throw new ArgumentException($"{values.Count} values can't be taken off {Count}.", nameof(values));
        if (left == 0 || values.Count == 0)
            return left == 0 ? null : this;
        double mean = (Count * Mean - values.Sum()) / left;
        if (left == 1)
            return new SampleSummary(1, mean, null, null, null);
        double squares = (Sd ?? 0) * (Sd ?? 0) * (Count - 1) - values.Sum(x => (x - Mean) * (x - Mean))
            - left * (mean - Mean) * (mean - Mean);
        // where all that is left agrees, rounding may fall on either side of 0
        return OfMoments(left, mean, Math.Sqrt(Math.Max(0, squares) / (left - 1)));
    }

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
        return OfMoments(n, mean, sd);
    }

    /// <summary>A summary of values that only their mean and standard deviation are known of; without interval where that is not known, or
    /// there is one value.</summary>
    public static SampleSummary OfMoments(int count, double mean, double? sd)
    {
        if (sd is not { } scatter || count < 2)
            return new SampleSummary(count, mean, null, null, null);
        double half = StudentT975.GetOrAdd(count - 1, df => StudentT.InvCDF(0, 1, df, 0.975)) * scatter / Math.Sqrt(count);
        return new SampleSummary(count, mean, scatter, mean - half, mean + half);
    }
}
