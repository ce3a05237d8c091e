namespace DecayAtlas.Questions.Answers;

/// <summary>Asks how far the two-bag k of one retrieval agrees with the k of a curve fitted to all others, over the series of a
/// release.</summary>
public static class ShortcutQuestion
{
    /// <summary>The curve's k is a reference only where its interval is narrower than this ratio of its ends: a factor of 2 either way
    /// (common practice, no source).</summary>
    private const double WidestReference = 4;

    /// <summary>The series in which both are known: k two-bag, k of the asymptotic curve of the slow litter (d⁻¹). They share no slow
    /// bag.</summary>
    public static IReadOnlyList<MeasuredPair> PairsOf(IReadOnlyList<ReleasedCurve> curves) =>
    [
        .. SeriesOf(curves).Where(c => HasTwoBagRate(c) && HasReference(c))
            .Select(c => new MeasuredPair(c.ApartTwoBagRatePerDay!.Value, c.ApartRatePerDay.Value!.Value)),
    ];

    private static IEnumerable<ReleasedCurve> SeriesOf(IReadOnlyList<ReleasedCurve> curves) =>
        curves.Where(c => c is { Litter: "slow", Model: "asymptotic" });

    private static bool HasTwoBagRate(ReleasedCurve c) => c.ApartTwoBagRatePerDay > 0;

    private static bool HasReference(ReleasedCurve c) =>
        c.ApartRatePerDay is { Value: > 0, Lower95: > 0 } k && k.Upper95 / k.Lower95 <= WidestReference;

    /// <summary>Why series are no pair, in words; nothing where all are.</summary>
    private static string LeftOut(ReleasedCurve[] series)
    {
        ReleasedCurve[] rated = [.. series.Where(HasTwoBagRate)];
        (int Count, string Why)[] reasons =
        [
            (series.Length - rated.Length, "without an accepted two-bag k above 0"),
            (rated.Count(c => c.ApartStatement is not null), "without a curve once the retrieval of the two-bag k is set apart"),
            (rated.Count(c => c.ApartStatement is null && !HasReference(c)),
                "where that curve's k is not known to within a factor of 2 either way"),
        ];
        string[] told = [.. reasons.Where(r => r.Count > 0).Select(r => $"{r.Count} {r.Why}")];
        return told.Length == 0 ? "" : $" Series left out: {string.Join("; ", told)}.";
    }

    public static ReleasedAgreement Ask(ReleasedRates rates)
    {
        ReleasedCurve[] series = [.. SeriesOf(rates.Curves)];
        IReadOnlyList<MeasuredPair> pairs = PairsOf(series);
        string leftOut = LeftOut(series);
        Answer<AgreementLimits> answer = Agreement.Of(pairs);
        if (answer.Value is not { } a)
        {
            return new ReleasedAgreement
            {
                Series = pairs.Count,
                SeriesLeftOut = series.Length - pairs.Count,
                Sentence = $"The two-bag k can't be held against fitted curves: {pairs.Count} series have both. "
                    + $"{answer.Statement!.Sentence}{leftOut}",
            };
        }

        CorrectedRate unit = CorrectedRate.Offer(1, a);
        double ratio = Math.Exp(a.Bias), lower = Math.Exp(a.BiasLower95), upper = Math.Exp(a.BiasUpper95);
        string verdict = lower > 1 ? "The shortcut reads high" : upper < 1 ? "The shortcut reads low" : "No bias of the shortcut shows";
        string trend = Math.Abs(a.TrendCorrelation) > 0.5
            ? " The ratio changes with the rate, so that one correction for all would mislead." : "";
        return new ReleasedAgreement
        {
            Series = a.Pairs,
            SeriesLeftOut = series.Length - pairs.Count,
            Ratio = ratio,
            RatioLower95 = lower,
            RatioUpper95 = upper,
            LowerLimit = Math.Exp(a.LowerLimit),
            UpperLimit = Math.Exp(a.UpperLimit),
            LowerLimitLower95 = Math.Exp(a.OfLower.Lower),
            LowerLimitUpper95 = Math.Exp(a.OfLower.Upper),
            UpperLimitLower95 = Math.Exp(a.OfUpper.Lower),
            UpperLimitUpper95 = Math.Exp(a.OfUpper.Upper),
            TrendCorrelation = a.TrendCorrelation,
            CorrectionFactor = unit.RatePerDay,
            CorrectionLower95 = unit.Lower95,
            CorrectionUpper95 = unit.Upper95,
            Sentence = Invariant($"{verdict}: over {a.Pairs} series the two-bag k of one retrieval is {ratio:0.00} times the k of the ")
                + Invariant($"curve through all others (95 % interval {lower:0.00} to {upper:0.00}); one more series lies between ")
                + Invariant($"{Math.Exp(a.LowerLimit):0.00} and {Math.Exp(a.UpperLimit):0.00} with a probability of 95 %. Of all ")
                + Invariant($"series 2.5 % lie below {Math.Exp(a.OfLower.Lower):0.00} to {Math.Exp(a.OfLower.Upper):0.00}, and 2.5 % ")
                + Invariant($"above {Math.Exp(a.OfUpper.Lower):0.00} to {Math.Exp(a.OfUpper.Upper):0.00} (95 % intervals).")
                + $"{leftOut}{trend}",
        };
    }
}
