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
    private static readonly MeasurementAssumptions Assumed = new()
    {
        AshFractionSd = 0.003,
        TareMeanSdGrams = 0.003,
        BalanceOffsetSdGrams = 0.004,
    };

    [Theory]
    [InlineData(true, true, true)]      // everything varies
    [InlineData(true, false, false)]    // only what belongs to the burial
    [InlineData(false, true, false)]    // only what the batch shares
    [InlineData(false, false, true)]    // only what the lots share
    public void Agrees_with_Monte_Carlo_within_five_per_cent(bool bagVaries, bool batchVaries, bool lotVaries)
    {
        const double resolution = 0.01, ashFast = 0.12, ashSlow = 0.07, days = 90, moisture = 0.006, waterInitial = 0.04, waterFinal = 0.02,
            tareMean = 0.003, offset = 0.004;
        const double fastInitial = 2.25, fastFinal = 1.05, slowInitial = 2.35, slowFinal = 1.95;
        BagWeighing fastBag = new(fastInitial, fastFinal, MassBasis.Gross, ashFast, resolution,
            Water.Measured(waterInitial, moisture), Water.Measured(waterFinal, moisture));
        BagWeighing slowBag = new(slowInitial, slowFinal, MassBasis.Gross, ashSlow, resolution,
            Water.OfLot(waterInitial, moisture), Water.Measured(waterFinal, moisture));
        RemainingFraction wf = RemainingFraction.Of(fastBag, Fast, Assumed).Value!;
        RemainingFraction ws = RemainingFraction.Of(slowBag, Slow, Assumed).Value!;
        DateOnly buried = new(2024, 4, 1);
        Exposure exposure = Exposure.Between(buried, buried.AddDays((int)days), Assumed);
        Estimate s = TwoLitterIndex.StabilisationFactor(wf).Value!;
        Estimate k = TwoLitterIndex.RatePerDay(wf, ws, exposure).Value!;

        MersenneTwister random = new(20240401);
        double[] drawnK = new double[Draws], drawnS = new double[Draws];
        for (int i = 0; i < Draws; i++)
        {
            double tareFast = 0.25 + Bag(Gauss(0.004)) + Lot(Gauss(tareMean)), tareSlow = 0.25 + Bag(Gauss(0.004)) + Lot(Gauss(tareMean));
            double high = Batch(Gauss(offset)), ashLotFast = 0.05 + Lot(Gauss(0.004)), ashLotSlow = 0.04 + Lot(Gauss(0.003));
            double remainingFast = (fastFinal + high + Bag(Reading()) - tareFast)
                * (1 - waterFinal - Batch(Gauss(moisture))) * (1 - ashFast - Bag(Gauss(0.003)))
                / ((fastInitial + high + Bag(Reading()) - tareFast) * (1 - waterInitial - Batch(Gauss(moisture))) * (1 - ashLotFast));
            double remainingSlow = (slowFinal + high + Bag(Reading()) - tareSlow)
                * (1 - waterFinal - Batch(Gauss(moisture))) * (1 - ashSlow - Bag(Gauss(0.003)))
                / ((slowInitial + high + Bag(Reading()) - tareSlow) * (1 - waterInitial - Lot(Gauss(moisture))) * (1 - ashLotSlow));
            // H is stated as a share of dry litter; ash-free mass asks for it over 1 - ash
            double hFast = (0.842 + Lot(Gauss(0.010))) / (1 - ashLotFast), hSlow = (0.552 + Lot(Gauss(0.008))) / (1 - ashLotSlow);
            double t = days + Bag(random.NextDouble() - 0.5) + Bag(random.NextDouble() - 0.5);
            drawnS[i] = 1 - (1 - remainingFast) / hFast;
            double decomposable = hSlow * (1 - drawnS[i]);
            drawnK[i] = Math.Log(decomposable / (remainingSlow - 1 + decomposable)) / t;
        }

        Within5Percent(drawnS.StandardDeviation(), Part(s));
        Within5Percent(drawnK.StandardDeviation(), Part(k));

        double Bag(double x) => bagVaries ? x : 0;
        double Batch(double x) => batchVaries ? x : 0;
        double Lot(double x) => lotVaries ? x : 0;
        double Gauss(double sd) => Normal.Sample(random, 0, sd);
        double Reading() => (random.NextDouble() - 0.5) * resolution;
        double Part(Estimate e) => (bagVaries, batchVaries, lotVaries) switch
        {
            (true, true, true) => e.Uncertainty,
            (true, _, _) => e.UncertaintyBag,
            (_, true, _) => e.UncertaintyBatch,
            _ => e.UncertaintyLot,
        };
        static void Within5Percent(double monteCarlo, double firstOrder) =>
            Assert.InRange(firstOrder / monteCarlo, 0.95, 1.05);
    }

    [Fact]
    public void A_mean_over_burials_keeps_all_that_they_share_and_less_of_what_they_share_in_parts()
    {
        SharedErrors errors = new(new(Hydrolysable: 0.03, InitialWater: 0.06), new(Hydrolysable: -0.04, FinalWater: 0.08));
        SharedPart a = new(new("f1", "s1", "b1", "b1"), errors), otherLots = a with { Keys = new("f2", "s2", "b1", "b1") },
            otherBatch = a with { Keys = new("f1", "s1", "b2", "b2") };

        Assert.Equal(new SharedUncertainty(Batch: 0.1, Lot: 0.05), SharedUncertainty.OfMean([a, a, a, a]), Near);
        Assert.Equal(new SharedUncertainty(0.1, 0.05 / Math.Sqrt(2)), SharedUncertainty.OfMean([a, otherLots]), Near);
        Assert.Equal(new SharedUncertainty(0.1 / Math.Sqrt(2), 0.05), SharedUncertainty.OfMean([a, otherBatch]), Near);
        // opposite signs within one lot cancel: the quantity is the same one
        Assert.Equal(new SharedUncertainty(0, 0), SharedUncertainty.OfMean([a, a with { Errors = -1 * errors }]), Near);
        // one balance weighs both litters: what it reads too much in one is in the other too
        Assert.Equal(0, new SharedErrors(new(Balance: 0.02), new(Balance: -0.02)).UncertaintyBatch, 15);

        static bool Near(SharedUncertainty x, SharedUncertainty y) =>
            Math.Abs(x.Batch - y.Batch) < 1e-12 && Math.Abs(x.Lot - y.Lot) < 1e-12;
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
