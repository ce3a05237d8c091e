using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Curves;

/// <summary>Two ways to measure the same thing on the same object.</summary>
/// <param name="Shortcut">The quick method, for example k from two bags.</param>
/// <param name="Reference">The thorough one, for example k from the fitted curve.</param>
public readonly record struct MeasuredPair(double Shortcut, double Reference);

/// <summary>How far a shortcut agrees with its reference, on the scale of ln(shortcut/reference): errors grow with the value.</summary>
/// <param name="BiasLower95">The interval is bias ± t(0.975, n - 1) s/√n, s the standard deviation of the differences.</param>
/// <param name="LowerLimit">Limits of agreement: bias ± 1.96 s.</param>
/// <param name="TrendCorrelation">Correlation of difference and mean: far from 0, bias depends on the value, and one bias for all
/// misleads.</param>
public sealed record AgreementLimits(
    int Pairs, double Bias, double BiasLower95, double BiasUpper95, double Sd, double LowerLimit, double UpperLimit,
    double TrendCorrelation);

/// <summary>Limits of agreement of two methods (Bland and Altman 1986, Lancet 327:307-310).</summary>
public static class Agreement
{
    public static Answer<AgreementLimits> Of(IReadOnlyList<MeasuredPair> pairs)
    {
        if (pairs.Any(p => !double.IsFinite(p.Shortcut) || !double.IsFinite(p.Reference)))
            return Unanswered.NotFinite("pairs");
        if (pairs.Any(p => p.Shortcut <= 0 || p.Reference <= 0))
            return new Unanswered("A ratio needs both values above 0 in every pair.");
        if (pairs.Count < 3)
            return Unanswered.TooFew("pairs", pairs.Count, 3);

        (double Difference, double Mean)[] points = [.. pairs
            .Select(p => (Math.Log(p.Shortcut / p.Reference), (Math.Log(p.Shortcut) + Math.Log(p.Reference)) / 2)).Order()];
        SampleSummary d = SampleSummary.Of([.. points.Select(p => p.Difference)])!;
        if (!(d.Sd > 0))
            return Unanswered.NoScatter("differences");
        double s = d.Sd.Value;
        double trend = MathNet.Numerics.Statistics.Correlation.Pearson(points.Select(p => p.Difference), points.Select(p => p.Mean));
        return new AgreementLimits(
            d.Count, d.Mean, d.Lower95!.Value, d.Upper95!.Value, s, d.Mean - 1.96 * s, d.Mean + 1.96 * s, double.IsNaN(trend) ? 0 : trend);
    }
}

/// <summary>A rate set right by a measured bias. It is offered; nothing applies it unasked.</summary>
/// <param name="RatePerDay">The rate measured over the geometric mean ratio of shortcut to reference (d⁻¹).</param>
/// <param name="Lower95">Lower end of the interval in which the reference method would find this site's rate (d⁻¹).</param>
public sealed record CorrectedRate(double RatePerDay, double Lower95, double Upper95)
{
    /// <summary>
    /// <c>ln k' = ln k - b</c>, interval <c>ln k' ± t(0.975, n - 1) s √(1 + 1/n)</c> (prediction of one new difference; NIST/SEMATECH
    /// e-Handbook 1.3.5.2 gives the mean's part).
    /// </summary>
    /// <param name="ratePerDay">The rate as measured, above 0 (d⁻¹).</param>
    public static CorrectedRate Offer(double ratePerDay, AgreementLimits agreement)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ratePerDay);
        double half = StudentT.InvCDF(0, 1, agreement.Pairs - 1, 0.975) * agreement.Sd * Math.Sqrt(1 + 1.0 / agreement.Pairs);
        double corrected = ratePerDay * Math.Exp(-agreement.Bias);
        return new CorrectedRate(corrected, corrected * Math.Exp(-half), corrected * Math.Exp(half));
    }
}
