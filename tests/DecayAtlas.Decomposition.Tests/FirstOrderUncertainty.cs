using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Decomposition.Tests;

/// <summary>
/// First-order uncertainty against propagation of distributions by Monte Carlo (JCGM 101:2008): 400,000 draws of every input,
/// each from the distribution the method states, through formulas written out again here.
/// </summary>
public class FirstOrderUncertainty
{
    private const int Draws = 400_000;
    private static readonly LitterLot Fast = new(0.842, 0.010, 0.05, 0.004, 0.25, 0.004);
    private static readonly LitterLot Slow = new(0.552, 0.008, 0.04, 0.003, 0.25, 0.004);
    private static readonly MeasurementAssumptions Assumed = new() { AshFractionSd = 0.003 };

    [Theory]
    [InlineData(true, true)]     // everything varies
    [InlineData(true, false)]    // only what belongs to the burial
    [InlineData(false, true)]    // only what the lots share
    public void Agrees_with_Monte_Carlo_within_five_per_cent(bool bagVaries, bool lotVaries)
    {
        const double resolution = 0.01, ashFast = 0.12, ashSlow = 0.07, days = 90, moisture = 0.006;
        const double fastInitial = 2.25, fastFinal = 1.05, slowInitial = 2.35, slowFinal = 1.95;
        BagWeighing fastBag = new(fastInitial, fastFinal, MassBasis.Gross, ashFast, resolution, moisture);
        BagWeighing slowBag = new(slowInitial, slowFinal, MassBasis.Gross, ashSlow, resolution, moisture);
        RemainingFraction wf = RemainingFraction.Of(fastBag, Fast, Assumed).Value!;
        RemainingFraction ws = RemainingFraction.Of(slowBag, Slow, Assumed).Value!;
        DateOnly buried = new(2024, 4, 1);
        Exposure exposure = Exposure.Between(buried, buried.AddDays((int)days), Assumed);
        Estimate s = TwoLitterIndex.StabilisationFactor(wf, Fast).Value!;
        Estimate k = TwoLitterIndex.RatePerDay(wf, Fast, ws, Slow, exposure).Value!;

        MersenneTwister random = new(20240401);
        double[] drawnK = new double[Draws], drawnS = new double[Draws];
        for (int i = 0; i < Draws; i++)
        {
            double tareFast = 0.25 + Bag(Gauss(0.004)), tareSlow = 0.25 + Bag(Gauss(0.004));
            double remainingFast = (fastFinal + Bag(Reading()) - tareFast) * (1 + Bag(Gauss(moisture))) * (1 - ashFast - Bag(Gauss(0.003)))
                / ((fastInitial + Bag(Reading()) - tareFast) * (1 - 0.05 - Lot(Gauss(0.004))));
            double remainingSlow = (slowFinal + Bag(Reading()) - tareSlow) * (1 + Bag(Gauss(moisture))) * (1 - ashSlow - Bag(Gauss(0.003)))
                / ((slowInitial + Bag(Reading()) - tareSlow) * (1 - 0.04 - Lot(Gauss(0.003))));
            double hFast = 0.842 + Lot(Gauss(0.010)), hSlow = 0.552 + Lot(Gauss(0.008));
            double t = days + Bag(random.NextDouble() - 0.5) + Bag(random.NextDouble() - 0.5);
            drawnS[i] = 1 - (1 - remainingFast) / hFast;
            double decomposable = hSlow * (1 - drawnS[i]);
            drawnK[i] = Math.Log(decomposable / (remainingSlow - 1 + decomposable)) / t;
        }

        Within5Percent(drawnS.StandardDeviation(), Part(s));
        Within5Percent(drawnK.StandardDeviation(), Part(k));

        double Bag(double x) => bagVaries ? x : 0;
        double Lot(double x) => lotVaries ? x : 0;
        double Gauss(double sd) => Normal.Sample(random, 0, sd);
        double Reading() => (random.NextDouble() - 0.5) * resolution;
        double Part(Estimate e) => (bagVaries, lotVaries) switch
        {
            (true, true) => e.Uncertainty,
            (true, false) => e.UncertaintyBag,
            _ => e.UncertaintyLot,
        };
        static void Within5Percent(double monteCarlo, double firstOrder) =>
            Assert.InRange(firstOrder / monteCarlo, 0.95, 1.05);
    }

    [Fact]
    public void A_mean_over_burials_of_one_lot_keeps_the_whole_lot_uncertainty_and_of_two_lots_less()
    {
        LotErrors errors = new(0.03, -0.04, 0, 0);
        LotSharedPart a = new("f1", "s1", errors), b = new("f2", "s2", errors);

        Assert.Equal(0.05, LotSharedUncertainty.OfMean([a, a, a, a]), 12);
        Assert.Equal(0.05 / Math.Sqrt(2), LotSharedUncertainty.OfMean([a, b]), 12);
        // opposite signs within one lot cancel: the quantity is the same one
        Assert.Equal(0, LotSharedUncertainty.OfMean([a, new("f1", "s1", new(-0.03, 0.04, 0, 0))]), 12);
    }

    [Fact]
    public void A_date_is_known_to_the_day()
    {
        // JCGM 100:2008, 4.3.7: rectangular of half width a has u = a/√3; two dates of half a day each: √(2 · 0.5²/3) = 0.408
        Exposure e = Exposure.Between(new(2024, 5, 20), new(2024, 8, 18), MeasurementAssumptions.Default);
        Assert.Equal(90, e.Days);
        Assert.Equal(0.408248, e.UncertaintyDays, 6);
    }
}
