using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Outliers;

/// <summary>One step of the test.</summary>
/// <param name="Index">Of the most extreme value left, in the values as given.</param>
/// <param name="Statistic">R_i, its distance from the mean of what is left, in standard deviations.</param>
/// <param name="Critical">λ_i.</param>
public readonly record struct EsdStep(int Index, double Statistic, double Critical);

/// <summary>One step for each outlier looked for.</summary>
/// <param name="OutlierCount">The largest i with R_i &gt; λ_i; the values of steps 1 to i are outliers.</param>
public sealed record EsdResult(IReadOnlyList<EsdStep> Steps, int OutlierCount)
{
    /// <summary>The outliers, most extreme first.</summary>
    public IEnumerable<EsdStep> Outliers => Steps.Take(OutlierCount);
}

/// <summary>
/// Generalised extreme Studentized deviate test for up to r outliers in normal data; it sees several outliers that hide one another.
/// </summary>
/// <remarks>
/// <c>λ_i = (n - i) t / √((n - i - 1 + t²)(n - i + 1))</c>, t the 1 - α/(2(n - i + 1)) quantile on n - i - 1 degrees of freedom.
/// Source: Rosner 1983, Technometrics 25:165-172, who finds the level kept for n ≥ 25 and nearly so for n ≥ 15; NIST/SEMATECH e-Handbook
/// 1.3.5.17.3.
/// </remarks>
public static class GeneralisedEsd
{
    /// <summary>Fewest values for which the critical values hold.</summary>
    public const int FewestValues = 15;

    public static Answer<EsdResult> Of(IReadOnlyList<double> values, int mostOutliers, double level = 0.05)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(mostOutliers, 1);
        if (values.Any(v => !double.IsFinite(v)))
            return Unanswered.NotFinite("values");
        int n = values.Count;
        if (n < FewestValues)
            return Unanswered.TooFew("values", n, FewestValues);
        if (values.All(v => v == values[0]))
            return Unanswered.NoScatter("values");

        List<int> left = [.. Enumerable.Range(0, n).OrderBy(i => values[i])];
        List<EsdStep> steps = new();
        int outliers = 0;
        for (int i = 1; i <= Math.Min(mostOutliers, n - 2); i++)
        {
            double mean = left.Average(j => values[j]);
            double sd = Math.Sqrt(left.Sum(j => (values[j] - mean) * (values[j] - mean)) / (left.Count - 1));
            if (!(sd > 0))
                break;
            // sorted: the most extreme value stands at one of the ends
            int place = mean - values[left[0]] > values[left[^1]] - mean ? 0 : left.Count - 1;
            double statistic = Math.Abs(values[left[place]] - mean) / sd;
            double critical = Critical(n, i, level);
            steps.Add(new EsdStep(left[place], statistic, critical));
            left.RemoveAt(place);
            if (statistic > critical)
                outliers = i;
        }

        return new EsdResult(steps, outliers);
    }

    private static double Critical(int n, int i, double level)
    {
        double t = StudentT.InvCDF(0, 1, n - i - 1, 1 - level / (2 * (n - i + 1)));
        return (n - i) * t / Math.Sqrt((n - i - 1 + t * t) * (n - i + 1));
    }
}
