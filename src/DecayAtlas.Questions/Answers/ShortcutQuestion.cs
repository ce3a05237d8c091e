namespace DecayAtlas.Questions.Answers;

/// <summary>Asks how far the two-bag k agrees with the k of a fitted curve, over the series of a release.</summary>
public static class ShortcutQuestion
{
    /// <summary>The curve's k is a reference only where its interval is narrower than this ratio of its ends: a factor of 2 either way
    /// (common practice, no source).</summary>
    private const double WidestReference = 4;

    /// <summary>The series in which both are known: k two-bag, k of the asymptotic curve of the slow litter (d⁻¹).</summary>
    public static IReadOnlyList<MeasuredPair> PairsOf(IReadOnlyList<ReleasedCurve> curves) =>
    [
        .. curves
            .Where(c => c is { Litter: "slow", Model: "asymptotic", TwoBagRatePerDay: > 0, RatePerDay: { Value: > 0, Lower95: > 0 } k }
                && k.Upper95 / k.Lower95 <= WidestReference)
            .Select(c => new MeasuredPair(c.TwoBagRatePerDay!.Value, c.RatePerDay.Value!.Value)),
    ];

    public static ReleasedAgreement Ask(ReleasedRates rates) => Ask(PairsOf(rates.Curves));

    public static ReleasedAgreement Ask(IReadOnlyList<MeasuredPair> pairs)
    {
        Answer<AgreementLimits> answer = Agreement.Of(pairs);
        if (answer.Value is not { } a)
        {
            return new ReleasedAgreement
            {
                Series = pairs.Count,
                Sentence = $"The two-bag k can't be held against fitted curves: {pairs.Count} series have both. "
                    + $"{answer.Statement!.Sentence}",
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
            Ratio = ratio,
            RatioLower95 = lower,
            RatioUpper95 = upper,
            LowerLimit = Math.Exp(a.LowerLimit),
            UpperLimit = Math.Exp(a.UpperLimit),
            TrendCorrelation = a.TrendCorrelation,
            CorrectionFactor = unit.RatePerDay,
            CorrectionLower95 = unit.Lower95,
            CorrectionUpper95 = unit.Upper95,
            Sentence = Invariant($"{verdict}: over {a.Pairs} series the two-bag k is {ratio:0.00} times the k of the fitted curve (95 % ")
                + Invariant($"interval {lower:0.00} to {upper:0.00}); for a single series the limits of agreement are ")
                + Invariant($"{Math.Exp(a.LowerLimit):0.00} and {Math.Exp(a.UpperLimit):0.00}")
                + $"{(a.Pairs < 30 ? ", rough with so few series" : "")}.{trend}",
        };
    }
}
