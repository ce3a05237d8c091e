using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Curves;

/// <summary>Two ways to measure the same thing on the same object.</summary>
/// <param name="Shortcut">The quick method, for example k from two bags.</param>
/// <param name="Reference">The thorough one, for example k from the fitted curve.</param>
public readonly record struct MeasuredPair(double Shortcut, double Reference);

/// <summary>How far a shortcut agrees with its reference, on the scale of ln(shortcut/reference): errors grow with the value.</summary>
/// <param name="BiasLower95">The interval is bias ± t(0.975, n - 1) s/√n, s the standard deviation of the differences.</param>
/// <param name="LowerLimit">Limits of agreement: bias ± t(0.975, n - 1) s √(1 + 1/n), between which one more difference lies with a
/// probability of 95 %, whatever n is.</param>
/// <param name="OfLower">95 % interval of the 2.5 % point of all differences, which the lower limit stands for.</param>
/// <param name="OfUpper">So of the 97.5 % point.</param>
/// <param name="TrendCorrelation">Correlation of difference and mean: far from 0, bias depends on the value, and one bias for all
/// misleads.</param>
public sealed record AgreementLimits(
    int Pairs, double Bias, double BiasLower95, double BiasUpper95, double Sd, double LowerLimit, double UpperLimit,
    (double Lower, double Upper) OfLower, (double Lower, double Upper) OfUpper, double TrendCorrelation);

/// <summary>Limits of agreement of two methods (Bland and Altman 1986, Lancet 327:307-310), exact at any number of pairs.</summary>
/// <remarks>
/// bias ± 1.96 s holds 95 % of differences where there are many pairs; with 9 it holds 90 % of the next ones, since bias and s are
/// uncertain. Limits by t hold 95 % on average (a prediction interval; NIST/SEMATECH e-Handbook 1.3.5.2 gives the mean's part). How far
/// the points themselves may lie: √n (bias - (μ ± z σ))/s is noncentral t with n - 1 degrees of freedom and noncentrality ∓ z √n, so that
/// the 97.5 % point lies between bias + t(0.025; z √n) s/√n and bias + t(0.975; z √n) s/√n (Carkeet 2015, Optometry and Vision Science
/// 92:e71-e80, from memory). All take the differences as normal.
/// </remarks>
public static class Agreement
{
    private static readonly double Normal975 = Normal.InvCDF(0, 1, 0.975);

    /// <summary>A new difference lies within bias ± this times s with a probability of 95 %.</summary>
    public static double LimitFactor(int pairs) => StudentT.InvCDF(0, 1, pairs - 1, 0.975) * Math.Sqrt(1 + 1.0 / pairs);

    /// <summary>The 97.5 % point lies between bias + these times s in 95 of 100 samples; the 2.5 % point likewise below it.</summary>
    public static (double Near, double Far) PointFactors(int pairs)
    {
        double root = Math.Sqrt(pairs);
        return (NoncentralT.Quantile(0.025, pairs - 1, Normal975 * root) / root,
            NoncentralT.Quantile(0.975, pairs - 1, Normal975 * root) / root);
    }

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
        double half = LimitFactor(d.Count) * s;
        (double near, double far) = PointFactors(d.Count);
        return new AgreementLimits(
            d.Count, d.Mean, d.Lower95!.Value, d.Upper95!.Value, s, d.Mean - half, d.Mean + half,
            (d.Mean - far * s, d.Mean - near * s), (d.Mean + near * s, d.Mean + far * s), double.IsNaN(trend) ? 0 : trend);
    }
}

/// <summary>A rate set right by a measured bias. It is offered; nothing applies it unasked.</summary>
/// <param name="RatePerDay">The rate measured over the geometric mean ratio of shortcut to reference (d⁻¹).</param>
/// <param name="Lower95">Lower end of the interval in which the reference method would find this site's rate (d⁻¹).</param>
public sealed record CorrectedRate(double RatePerDay, double Lower95, double Upper95)
{
    /// <summary><c>ln k' = ln k - b</c>, with the limits of agreement in place of b for its interval.</summary>
    /// <param name="ratePerDay">The rate as measured, above 0 (d⁻¹).</param>
    public static CorrectedRate Offer(double ratePerDay, AgreementLimits agreement)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ratePerDay);
        return new CorrectedRate(ratePerDay * Math.Exp(-agreement.Bias), ratePerDay * Math.Exp(-agreement.UpperLimit),
            ratePerDay * Math.Exp(-agreement.LowerLimit));
    }
}
