using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Warmth;

/// <summary>A warmed plot beside its control, rates above 0, and by how much it was warmer, where measured.</summary>
public readonly record struct WarmedPair(double WarmedRatePerDay, double ControlRatePerDay, double? WarmingKelvin = null);

/// <summary>Effect of warming within pairs.</summary>
/// <param name="RateRatio">Geometric mean of k warmed over k control.</param>
/// <param name="PValue">Probability under no effect, paired t test on ln k.</param>
/// <param name="Q10">Q10 from the measured warming; missing where not all pairs have one.</param>
public sealed record WarmingEffect(int Pairs, IntervalEstimate RateRatio, double PValue, IntervalEstimate? Q10);

/// <summary>
/// Warming experiments: <c>d = ln(k_warmed/k_control)</c> in each pair, mean d ± t(0.975, n - 1) s/√n;
/// ln Q10 the slope of d on ΔT/10 through the origin.
/// </summary>
/// <remarks>Paired t: Student 1908, Biometrika 6:1-25. Regression through the origin: Snedecor and Cochran 1980, Statistical Methods, 9.15
/// (from memory). Log response ratio: Hedges, Gurevitch and Curtis 1999, Ecology 80:1150-1156. Warming also dries the soil: a ratio is of
/// the whole treatment.</remarks>
public static class PairedWarming
{
    public static Answer<WarmingEffect> Of(IReadOnlyList<WarmedPair> pairs)
    {
        if (pairs.SelectMany(p => (double[])[p.WarmedRatePerDay, p.ControlRatePerDay]).Any(r => !(r > 0) || !double.IsFinite(r)))
            return new Unanswered("Each pair needs two rates above 0.");
        if (pairs.Any(p => p.WarmingKelvin is { } w && !(w > 0)))
            return new Unanswered("The warming of a pair must be above 0 K.");
        if (pairs.Count < 2)
            return Unanswered.TooFew("pairs", pairs.Count, 2);
        (double D, double? X)[] points = [.. pairs.Select(p => (Math.Log(p.WarmedRatePerDay / p.ControlRatePerDay), p.WarmingKelvin / 10))
            .Order()];
        SampleSummary d = SampleSummary.Of([.. points.Select(p => p.D)])!;
        if (!(d.Sd > 0))
            return Unanswered.NoScatter("ratios of the pairs");

        double t = d.Mean / (d.Sd.Value / Math.Sqrt(d.Count));
        return new WarmingEffect(
            d.Count, IntervalEstimate.OfLog(d.Mean, d.Lower95!.Value, d.Upper95!.Value),
            2 * StudentT.CDF(0, 1, d.Count - 1, -Math.Abs(t)),
            points.All(p => p.X is not null) ? Slope([.. points.Select(p => (p.D, p.X!.Value))]) : null);
    }

    private static IntervalEstimate Slope((double D, double X)[] points)
    {
        double xx = points.Sum(p => p.X * p.X), b = points.Sum(p => p.X * p.D) / xx;
        int df = points.Length - 1;
        double error = Math.Sqrt(points.Sum(p => Math.Pow(p.D - b * p.X, 2)) / df / xx), half = StudentT.InvCDF(0, 1, df, 0.975) * error;
        return IntervalEstimate.OfLog(b, b - half, b + half);
    }
}
