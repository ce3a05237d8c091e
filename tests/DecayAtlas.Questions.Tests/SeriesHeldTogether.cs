namespace DecayAtlas.Questions.Tests;

/// <summary>Questions asked of the series of a release: one retrieval against the others, and S of both litters.</summary>
public class SeriesHeldTogether
{
    private sealed class Tables(params ReleasedCurve[] curves) : IReleasedRows
    {
        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => table.Name switch
            {
                "curves" => [.. curves.Cast<TRow>()],
                "plots" => [.. new object[] { ReleasedPlot.Of("a", "2024", null, null, SampleSummary.Of([Math.Log(0.01)])!) }.Cast<TRow>()],
                _ => [],
            };
    }

    private static ReleasedCurve Curve(string site, string litter, string model) => new()
    {
        SiteKey = site,
        Campaign = "2024",
        Litter = litter,
        Model = model,
        Bags = 12,
        Retrievals = 6,
        ShortestDays = 20,
        LongestDays = 150,
        TwoBagBurials = 3,
    };

    private static ReleasedCurve Pair(string site, double? twoBag, double? k, double width = 1.2) => Curve(site, "slow", "asymptotic") with
    {
        ApartTwoBagRatePerDay = twoBag,
        ApartRatePerDay = new(k, 0.001, k / width, k * width),
        ApartStatement = k is null ? "Too few." : null,
    };

    private static ReleasedCurve TwoS(string site, double fast, double slow, double? lower) => Curve(site, "both", "two-s") with
    {
        Stabilisation = new(fast, 0.003, fast - 0.01, fast + 0.01),
        SlowStabilisation = new(slow, 0.04, lower, slow + 0.08),
        FastHydrolysable = 0.8,
        FastHydrolysableUncertainty = 0.016,
        SlowHydrolysable = 0.5,
        SlowHydrolysableUncertainty = 0.02,
    };

    [Fact]
    public void Series_that_are_no_pair_are_counted_with_the_reason()
    {
        ReleasedAgreement row = ShortcutQuestion.Ask(new ReleasedRates(new Tables(
            Pair("a", 0.010, 0.010), Pair("b", 0.011, 0.010), Pair("c", 0.012, 0.010), Pair("d", null, 0.010), Pair("e", 0.01, null),
            Pair("f", 0.01, 0.010, width: 2.1))));

        // geometric mean of 1, 1.1 and 1.2: 1.32^(1/3) = 1.09696
        Assert.Equal((3, 3), (row.Series, row.SeriesLeftOut));
        Assert.Equal(1.09696, row.Ratio!.Value, 1e-5);
        Assert.True(row.LowerLimitLower95 < row.LowerLimit && row.LowerLimit < row.LowerLimitUpper95);
        Assert.True(row.UpperLimitLower95 < row.UpperLimit && row.UpperLimit < row.UpperLimitUpper95);
        Assert.Equal(1 / row.UpperLimit!.Value, row.CorrectionLower95!.Value, 1e-12);
        Assert.Contains(
            "Series left out: 1 without an accepted two-bag k above 0; 1 without a curve once the retrieval of the two-bag k is set apart; "
            + "1 where that curve's k is not known to within a factor of 2 either way.", row.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_difference_of_S_is_told_with_its_factor_on_k_and_with_what_it_does_not_show()
    {
        ReleasedCalibration row = CalibrationQuestion.Ask(new ReleasedRates(new Tables(
            TwoS("a", 0.25, 0.29, 0.2), TwoS("b", 0.25, 0.30, 0.2), TwoS("c", 0.25, 0.31, 0.2), TwoS("d", 0.25, -0.4, null))));

        // mean of 0.04, 0.05 and 0.06; sd 0.01, t(0.975, 2) = 4.302653: half-width 0.0248414
        Assert.Equal((3, 1, 1), (row.Series, row.SeriesLeftOut, row.Side));
        Assert.Equal(0.05, row.Difference!.Value, 1e-12);
        Assert.Equal(0.05 - 0.0248414, row.DifferenceLower95!.Value, 1e-6);
        Assert.Equal(0, row.BetweenSd);
        // (1 - S) u(H)/H: 0.70 x 0.04 and 0.75 x 0.02
        Assert.Equal(Math.Sqrt(0.028 * 0.028 + 0.015 * 0.015), row.DifferenceLotUncertainty!.Value, 1e-12);
        // S 0.25, k 0.01, 90 d, worked by hand in the tests of the statistic
        Assert.Equal(1.0101 / 0.9, row.RateFactor!.Value, 1e-4);
        Assert.StartsWith("The two litters do not give one S: over 3 series", row.Sentence, StringComparison.Ordinal);
        Assert.Contains("It may not be concluded that one litter is stabilised more", row.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_series_are_too_few_and_an_answer_that_goes_is_another()
    {
        ReleasedCalibration none = CalibrationQuestion.Ask(new ReleasedRates(new Tables(TwoS("a", 0.2, 0.3, 0.2), TwoS("b", 0.2, 0.4, 0.3))));
        Assert.Null(none.Difference);
        Assert.Equal("not-computed", none.Status);
        Assert.Contains("There are 2 series; at least 3 are needed.", none.Sentence, StringComparison.Ordinal);
        ReleasedCalibration some = none with { Difference = 0.1, DifferenceLower95 = 0.05, DifferenceUpper95 = 0.15 };
        Assert.True(AnswerChanges.Of(some, none).IsOfConclusion);
        Assert.True(AnswerChanges.Of(some, some with { DifferenceLower95 = -0.01 }).IsOfConclusion);
        Assert.False(AnswerChanges.Of(some, some).IsOfConclusion);
    }
}
