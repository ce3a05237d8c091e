using MathNet.Numerics.Statistics;

namespace DecayAtlas.Questions.Answers;

/// <summary>Asks whether the two litters of a release's series have one S, as the two-bag equations take it, and what a two-bag k is off
/// by where they have not.</summary>
public static class CalibrationQuestion
{
    public static ReleasedCalibration Ask(ReleasedRates rates)
    {
        ReleasedCurve[] curves = [.. rates.Curves.Where(c => c is { Litter: "both", Model: "two-s" })];
        ReleasedCurve[] known = [.. curves.Where(IsKnown)];
        Answer<PooledDifference> answer = PooledDifference.Of([.. known.Select(DifferenceOf)]);
        if (answer.Value is not { } pooled)
        {
            return new ReleasedCalibration
            {
                Series = known.Length,
                SeriesLeftOut = curves.Length - known.Length,
                Sentence = $"Whether both litters have one S can't be said: {known.Length} series tell both. "
                    + answer.Statement!.Sentence,
            };
        }

        double[] lnRates = [.. rates.Plots.Where(p => p.IsUntreated).Select(p => p.LnRateMean).OfType<double>()];
        TypicalBurial? typical = lnRates.Length == 0 ? null
            : new(known.Select(c => c.Stabilisation.Value!.Value).Median(), Math.Exp(lnRates.Median()), SeriesUse.UsualDays);
        // S = 1 - a/H, so that H off by u(H) moves S by (1 - S) u(H)/H
        double ofSlow = known.Average(c =>
            (1 - c.SlowStabilisation.Value!.Value) * Relative(c.SlowHydrolysableUncertainty, c.SlowHydrolysable));
        double ofFast = known.Average(c =>
            (1 - c.Stabilisation.Value!.Value) * Relative(c.FastHydrolysableUncertainty, c.FastHydrolysable));
        ReleasedCalibration row = new()
        {
            Series = pooled.Series,
            SeriesLeftOut = curves.Length - known.Length,
            Difference = pooled.Difference,
            DifferenceLower95 = pooled.Lower95,
            DifferenceUpper95 = pooled.Upper95,
            DifferenceLotUncertainty = Math.Sqrt(ofSlow * ofSlow + ofFast * ofFast),
            BetweenSd = pooled.BetweenSd,
            BetweenSdUpper95 = pooled.BetweenSdUpper95,
            TypicalRatePerDay = typical?.RatePerDay,
            TypicalStabilisation = typical?.StabilisationFactor,
            TypicalDays = typical?.Days,
            RateFactor = typical?.RateFactor(pooled.Difference),
            RateFactorLower95 = typical?.RateFactor(pooled.Lower95),
            RateFactorUpper95 = typical?.RateFactor(pooled.Upper95),
            Sentence = "",
        };
        return row with { Sentence = string.Join(' ', Sentences(row)) };
    }

    // no bound on how wide the interval may be: a low S of the slow litter has a wide one, so that a bound would leave out low ones
    private static bool IsKnown(ReleasedCurve c) => c is
    {
        Stabilisation: { Value: not null, StandardError: > 0 },
        SlowStabilisation: { Value: not null, StandardError: > 0, Lower95: not null, Upper95: not null },
    };

    // the two curves share no parameter, and so no error but that of the residual variance
    private static SeriesDifference DifferenceOf(ReleasedCurve c)
    {
        double ofFast = c.Stabilisation.StandardError!.Value, ofSlow = c.SlowStabilisation.StandardError!.Value;
        return new(c.SlowStabilisation.Value!.Value - c.Stabilisation.Value!.Value, Math.Sqrt(ofFast * ofFast + ofSlow * ofSlow));
    }

    private static double Relative(double? uncertainty, double? value) => uncertainty / value ?? 0;

    private static IEnumerable<string> Sentences(ReleasedCalibration row)
    {
        string interval = Invariant($"over {row.Series} series S of the slow litter less S of the fast one is {row.Difference:0.000} ")
            + Invariant($"(95 % interval {row.DifferenceLower95:0.000} to {row.DifferenceUpper95:0.000})");
        yield return row.Side == 0 ? $"No difference of the two litters shows: {interval}; that is not to say that there is none."
            : $"The two litters do not give one S: {interval}.";
        string most = row.BetweenSdUpper95 is { } upperSd ? Invariant($" (up to {upperSd:0.000})") : "";
        yield return Invariant($"From series to series it differs by a standard deviation of {row.BetweenSd:0.000}{most} beyond ")
            + "the errors of the curves: by so much a single site may be off otherwise.";
        if (row.SeriesLeftOut > 0)
            yield return $"Left out are {row.SeriesLeftOut} series whose bags set no limits to one of the two S.";
        if (row.RateFactor is { } factor)
        {
            string range = row.RateFactorUpper95 is { } upper ? Invariant($"{row.RateFactorLower95:0.00} to {upper:0.00}")
                : Invariant($"{row.RateFactorLower95:0.00} at least, no upper end");
            yield return Invariant($"A two-bag k of {row.TypicalRatePerDay:0.0000} per day after {row.TypicalDays:0} days at an S of ")
                + Invariant($"{row.TypicalStabilisation:0.00} would have to be multiplied by {factor:0.00} ({range}); no released k is.");
        }

        yield return "It may not be concluded that one litter is stabilised more: "
            + Invariant($"H of the lots alone makes the difference uncertain by {row.DifferenceLotUncertainty:0.000} (standard ")
            + "uncertainty, in no interval here). The factor needs no such reason, but holds for these lots, and for sites like those with "
            + "a series.";
    }
}
