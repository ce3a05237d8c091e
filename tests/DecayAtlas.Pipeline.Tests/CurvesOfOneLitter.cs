namespace DecayAtlas.Pipeline.Tests;

/// <summary>A series of one litter alone: no k and S of two bags, and a curve all the same.</summary>
public class CurvesOfOneLitter
{
    // litter of 2 g in a bag of 0.25 g without ash or water: w = (m - 0.25) / 2
    private const double TareGrams = 0.25, LitterGrams = 2;

    private static readonly int[] Days = [30, 60, 120, 240];

    private static IReadOnlyList<ReleasedCurve> CurvesOf(LitterRole role, Func<int, double> remaining)
    {
        (LotRow lot, BagRow bag) = role == LitterRole.Slow ? (Given.SlowLot, Given.SlowBag) : (Given.FastLot, Given.FastBag);
        Contribution contribution = new(
            Given.Header(), [Given.Site], [lot with { AshFraction = null, AshFractionSd = null }],
            [
                .. Days.Select((days, i) => bag with
                {
                    Row = i + 2,
                    BagId = $"b{i}",
                    BurialId = $"b{i}",
                    MassInitialGrams = TareGrams + LitterGrams,
                    MassFinalGrams = TareGrams + LitterGrams * remaining(days),
                    BuriedOn = new(2023, 4, 1),
                    RetrievedOn = new DateOnly(2023, 4, 1).AddDays(days),
                }),
            ],
            []);
        IndexStep.Output index = IndexStep.Run([contribution], MeasurementAssumptions.Default, []);
        Assert.All(index.Burials, b => Assert.Null(b.RatePerDay.Value));
        return CurveStep.Run(index.Bags, index.Burials, FlagStep.Run(Given.Inputs(contribution), DecisionList.None).Verdicts);
    }

    /// <summary>Numbers made by hand: w = exp(-0.005 t) at 30, 60, 120 and 240 days is 0.8607, 0.7408, 0.5488, 0.3012, and the rate
    /// that made them comes back.</summary>
    [Theory]
    [InlineData("fast")]
    [InlineData("slow")]
    public void Exact_exponential_decay_gives_its_rate_back(string litter)
    {
        IReadOnlyList<ReleasedCurve> curves = CurvesOf(litter == "fast" ? LitterRole.Fast : LitterRole.Slow, t => Math.Exp(-0.005 * t));

        ReleasedCurve single = curves.Single(c => c.Model == "single-exponential");
        Assert.Equal((litter, 4, 4, 30, 240), (single.Litter, single.Bags, single.Retrievals, single.ShortestDays, single.LongestDays));
        Assert.Equal(0.005, single.RatePerDay.Value!.Value, 1e-9);
        Assert.Null(single.TwoBagRatePerDay);
    }

    /// <summary>w = 0.3 + 0.7 exp(-0.02 t): a rest of 0.3 that does not decay.</summary>
    [Fact]
    public void A_rest_that_stays_is_found()
    {
        ReleasedCurve asymptotic = CurvesOf(LitterRole.Fast, t => 0.3 + 0.7 * Math.Exp(-0.02 * t)).Single(c => c.Model == "asymptotic");

        Assert.Equal(0.02, asymptotic.RatePerDay.Value!.Value, 1e-7);
        Assert.Equal(0.3, asymptotic.Rest.Value!.Value, 1e-7);
    }

    [Fact]
    public void No_curve_of_both_litters_is_made_up()
    {
        ReleasedCurve[] both = [.. CurvesOf(LitterRole.Slow, t => Math.Exp(-0.005 * t)).Where(c => c.Litter == "both")];

        Assert.Equal(2, both.Length);
        Assert.All(both, c => Assert.Null(c.RatePerDay.Value ?? c.Stabilisation.Value));
        Assert.All(both, c => Assert.NotNull(c.Statement));
    }
}
