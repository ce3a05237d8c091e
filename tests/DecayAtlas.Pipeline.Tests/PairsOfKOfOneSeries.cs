namespace DecayAtlas.Pipeline.Tests;

/// <summary>A two-bag k and a curve's k that are held against each other use no slow bag together.</summary>
public class PairsOfKOfOneSeries
{
    private const double TareGrams = 0.25, LitterGrams = 2, Extra = 0.02;

    private static double FastLoss(int days) => 0.842 * 0.7 * (1 - Math.Exp(-0.08 * days));

    // the slow litter follows a curve of k 0.01 but for the bag of 90 days, which lost 0.02 more
    private static double SlowLoss(int days) => 0.552 * 0.7 * (1 - Math.Exp(-0.01 * days)) + (days == 90 ? Extra : 0);

    private static ReleasedCurve CurveOf(params int[] dates)
    {
        DateOnly buried = new(2023, 4, 1);
        BagRow Bag(BagRow like, string mark, int days, int row, double loss) => like with
        {
            Row = row,
            BagId = $"{mark}{days}",
            BurialId = $"b{days}",
            MassInitialGrams = TareGrams + LitterGrams,
            MassFinalGrams = TareGrams + LitterGrams * (1 - loss),
            BuriedOn = buried,
            RetrievedOn = buried.AddDays(days),
        };
        Contribution contribution = new(
            Given.Header(), [Given.Site],
            [
                Given.FastLot with { AshFraction = null, AshFractionSd = null },
                Given.SlowLot with { AshFraction = null, AshFractionSd = null },
            ],
            [
                .. dates.SelectMany((d, i) => (BagRow[])
                    [Bag(Given.FastBag, "f", d, 2 * i + 2, FastLoss(d)), Bag(Given.SlowBag, "s", d, 2 * i + 3, SlowLoss(d))]),
            ],
            []);
        IndexStep.Output index = IndexStep.Run([contribution], MeasurementAssumptions.Default, []);
        return CurveStep.Run(index.Bags, index.Burials, FlagStep.Run(Given.Inputs(contribution), DecisionList.None).Verdicts)
            .Single(c => c is { Litter: "slow", Model: "asymptotic" });
    }

    [Fact]
    public void The_bags_of_the_two_bag_k_are_not_in_its_curve()
    {
        ReleasedCurve curve = CurveOf(30, 60, 90, 120, 180);

        Assert.Equal((90, 1), (curve.ApartDays, curve.ApartTwoBagBurials));
        // the odd bag is in the curve of all bags, and not in the one without its retrieval
        Assert.True(Math.Abs(curve.RatePerDay.Value!.Value - 0.01) > 1e-4);
        Assert.Equal(0.01, curve.ApartRatePerDay.Value!.Value, 1e-7);
        // Keuskamp et al. 2013: a_s = H_s a_f/H_f, k = ln(a_s/(w_s - (1 - a_s)))/t
        double share = 0.552 * FastLoss(90) / 0.842;
        Assert.Equal(Math.Log(share / (share - SlowLoss(90))) / 90, curve.ApartTwoBagRatePerDay!.Value, 1e-9);
        Assert.Null(curve.ApartStatement);
    }

    [Fact]
    public void Where_the_others_are_no_series_that_is_said()
    {
        ReleasedCurve curve = CurveOf(60, 90, 150);

        Assert.Equal(90, curve.ApartDays);
        Assert.Null(curve.ApartRatePerDay.Value);
        Assert.Contains("too few others", curve.ApartStatement, StringComparison.Ordinal);
    }
}
