using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Decomposition.Tests.Means;

/// <summary>k and S of a site from what a group says of its burials: held against differences computed outside, and against simulated
/// groups that weigh, average and throw the weighings away.</summary>
public class IndexFromMeans
{
    private static readonly LitterLot Fast = new(0.78, 0.02), Slow = new(0.51, 0.04);

    // no water left and none uncertain, so that the lots' chemistry is all that is shared
    private static readonly MeasurementAssumptions Assumptions = MeasurementAssumptions.Default with { MoistureSd = 0 };

    private static Hydrolysable HydrolysableOf(LitterLot lot) => Hydrolysable.Of(lot, FractionBasis.Dry, Assumptions).Value!;

    // by hand from the formula of SiteInterval: u² = 0.2²/5 + 0.03² + 0.04² = 0.0105, v = 0.7619048, b = 1.15625, g = 0.633744,
    // t(0.975, 4) = 2.776445 (NIST/SEMATECH e-Handbook 1.3.6.7), so that half = 0.1024695 (1.959964 + 0.816481 g) = 0.253859
    [Fact]
    public void The_interval_of_pooled_means_holds_scatter_and_what_is_shared()
    {
        SharedErrors errors = new(new LitterErrors(Hydrolysable: 0.04, InitialWater: 0.03), default);

        SiteMean mean = IntervalOf(0.2, errors)!;

        Assert.Equal(-4.5, mean.Mean);
        Assert.Equal(-4.5 - 0.253859, mean.Lower95, 2e-6);
        Assert.Equal(-4.5 + 0.253859, mean.Upper95, 2e-6);
        Assert.Null(IntervalOf(null, errors));
        Assert.Null(IntervalOf(0.2, null));

        static SiteMean? IntervalOf(double? sd, SharedErrors? shared) =>
            PooledMeans.Of([(new MeanWithErrors(5, -4.5, sd, shared), new SharedKeys("F", "S", "b", "b"))])!.Interval();
    }

    private static BurialMeans Means(
        int burials, double fast, double? fastSd, double slow, double? slowSd, double correlation = 0, double exposureSd = 0) => new(
            burials, Of(fast, fastSd, Fast), Of(slow, slowSd, Slow), correlation, 90, exposureSd);

    private static MeanFraction Of(double mean, double? sd, LitterLot lot) =>
        new(RemainingFraction.OfMean(mean, lot, FractionBasis.Dry, Water.Dried(0), Water.Dried(0), Assumptions), sd);

    // Python 3, second derivatives of ln(ln(a/D)) by central differences of 1e-4, with no formula of the code in it.
    [Theory]
    [InlineData(0.0, -4.3728724, 0.2073307, 0.0128429)]
    [InlineData(0.4, -4.3759124, 0.1791217, 0.0127459)]
    public void Means_give_what_numerical_differences_give(double correlation, double lnRate, double sd, double rate)
    {
        MeanIndex index = Means(6, 0.442, 0.021, 0.753, 0.026, correlation, 1.5).Index();

        Assert.Equal(lnRate, index.LnRate.Value!.Mean, 5e-7);
        Assert.Equal(sd, index.LnRate.Value.Sd!.Value, 5e-7);
        Assert.Equal(rate, index.RatePerDay.Value!.Mean, 5e-7);
        Assert.Equal(0.0475556, index.LnRate.Value.Shared!.Value.Fast.Hydrolysable, 1e-5);
        Assert.Equal(-0.1454642, index.LnRate.Value.Shared.Value.Slow.Hydrolysable, 1e-5);
        MeanWithErrors s = index.Stabilisation.Value!;
        Assert.Equal((0.2846154, 0.0269231, 0.0183432),
            (Math.Round(s.Mean, 7), Math.Round(s.Sd!.Value, 7), Math.Round(s.Shared!.Value.Fast.Hydrolysable, 7)));
    }

    // Python 3: w_f and w_s from k 0.0113, S 0.285 and H 0.79 and 0.52 over 91 days, then k and S of them with H 0.78 and 0.51;
    // derivatives by central differences.
    [Fact]
    public void Reported_values_are_put_on_the_lots_by_way_of_the_fractions_they_came_from()
    {
        MeanIndex index = new ReportedMeans(5, 0.0113, 0.0021, 0.285, 0.03, 91, 0.79, 0.52)
            .Index(HydrolysableOf(Fast), HydrolysableOf(Slow));

        Assert.True(index.IsHarmonised);
        Assert.Equal(-4.4849842, index.LnRate.Value!.Mean, 1e-5);
        Assert.Equal(0.1871614, index.LnRate.Value.Sd!.Value, 1e-6);
        Assert.Equal(0.0451099, index.LnRate.Value.Shared!.Value.Fast.Hydrolysable, 1e-5);
        Assert.Equal(-0.1379832, index.LnRate.Value.Shared.Value.Slow.Hydrolysable, 1e-5);
        Assert.Equal(0.2758333, index.Stabilisation.Value!.Mean, 1e-7);
        Assert.Equal(0.0303846, index.Stabilisation.Value.Sd!.Value, 1e-7);
    }

    [Fact]
    public void With_the_groups_own_chemistry_k_and_S_stay_as_they_are()
    {
        MeanIndex same = new ReportedMeans(5, 0.0113, 0, 0.285, 0.03, 91, 0.78, 0.51).Index(HydrolysableOf(Fast), HydrolysableOf(Slow));
        MeanIndex kept = new ReportedMeans(5, 0.0113, 0, 0.285, 0.03, null, null, null).Index(null, null);

        Assert.Equal(0.0113, same.RatePerDay.Value!.Mean, 1e-15);
        Assert.Equal(0.0113, kept.RatePerDay.Value!.Mean, 1e-15);
        Assert.Equal((true, false), (same.IsHarmonised, kept.IsHarmonised));
        Assert.Equal((0.285, 0.285), (Math.Round(same.Stabilisation.Value!.Mean, 12), Math.Round(kept.Stabilisation.Value!.Mean, 12)));
        Assert.Null(kept.RatePerDay.Value.Shared);
    }

    /// <summary>
    /// Burials scatter in k and S, bags in their weighing; the group sends means and standard deviations. k of the plain means would be
    /// off by a few per cent; what is computed must land on the mean of ln k that single weighings give, and on the truth.
    /// </summary>
    [Theory]
    [InlineData(0.006, 8)]
    [InlineData(0.0125, 8)]
    [InlineData(0.0125, 3)]
    [InlineData(0.017, 8)]
    public void Summaries_land_where_the_weighings_would_have(double rate, int burials)
    {
        const int groups = 4000;
        Xoshiro256StarStar random = new(20, threadSafe: false);
        double[] offTruth = new double[groups], offWeighed = new double[groups], plain = new double[groups];
        int covered = 0;
        for (int g = 0; g < groups; g++)
        {
            (double[] fast, double[] slow) = Weigh(random, rate, burials);
            MeanWithErrors found = Means(burials, fast.Average(), fast.StandardDeviation(), slow.Average(), slow.StandardDeviation(),
                Correlation.Pearson(fast, slow)).Index().LnRate.Value!;
            offTruth[g] = found.Mean - Math.Log(rate);
            offWeighed[g] = found.Mean - fast.Zip(slow, LnRateOf).Average();
            plain[g] = LnRateOf(fast.Average(), slow.Average()) - fast.Zip(slow, LnRateOf).Average();
            double half = StudentT.InvCDF(0, 1, burials - 1, 0.975) * found.ReplicateUncertainty!.Value;
            covered += Math.Abs(offTruth[g]) <= half ? 1 : 0;
        }

        // most of what plain means are off by is gone, and what is left is nothing beside the error of one site
        Assert.True(Math.Abs(offWeighed.Average()) < 0.25 * Math.Abs(plain.Average()) + 0.0005,
            $"summarised off by {offWeighed.Average():0.00000}, plain means by {plain.Average():0.00000}");
        Assert.InRange(offTruth.Average(), -0.012, 0.012);
        Assert.InRange((double)covered / groups, 0.935, 0.965);
    }

    [Fact]
    public void What_is_missing_has_its_reason()
    {
        MeanFraction fast = Of(0.45, 0.02, Fast);
        MeanIndex alone = new BurialMeans(4, fast, MissingReason.SlowBagAbsent, 0, 90, 0).Index();
        Assert.Equal(MissingReason.SlowBagAbsent, alone.LnRate.Reason);
        Assert.NotNull(alone.Stabilisation.Value);
        Assert.Equal(MissingReason.RetrievalNotReported, new BurialMeans(4, fast, fast, 0, null, 0).Index().LnRate.Reason);
        Assert.Equal(MissingReason.SlowLossAtPlateau, Means(4, 0.45, 0.02, 0.6, 0.02).Index().LnRate.Reason);
        Assert.Equal(MissingReason.MeanRateNotPositive, Means(4, 0.45, 0.02, 1, 0.02).Index().LnRate.Reason);
        Assert.Equal(MissingReason.FastLossNotPositive, Means(4, 1, 0.02, 0.7, 0.02).Index().LnRate.Reason);
        Assert.Equal(MissingReason.MeanRateNotPositive, new ReportedMeans(4, 0, 0, 0.2, 0, 90, null, null).Index(null, null).LnRate.Reason);
        Assert.Equal(MissingReason.RateNotReported, new ReportedMeans(4, null, 0, 0.2, 0, 90, null, null).Index(null, null).LnRate.Reason);
    }

    [Fact]
    public void Without_scatter_or_with_one_burial_there_is_no_error()
    {
        Assert.Null(Means(6, 0.442, null, 0.753, 0.026).Index().LnRate.Value!.Sd);
        Assert.Null(Means(1, 0.442, 0.02, 0.753, 0.026).Index().LnRate.Value!.Sd);
        Assert.Null(new ReportedMeans(5, 0.0113, null, 0.285, null, 91, null, null).Index(null, null).LnRate.Value!.Sd);
    }

    // The fast litter at its plateau, the slow one on its way: written from the published equations, with weighing noise on top.
    private static (double[] Fast, double[] Slow) Weigh(Random random, double rate, int burials)
    {
        double[] fast = new double[burials], slow = new double[burials];
        for (int i = 0; i < burials; i++)
        {
            double k = rate * Math.Exp(Normal.Sample(random, 0, 0.12)), s = Normal.Sample(random, 0.28, 0.015);
            fast[i] = 1 - 0.78 * (1 - s) + Normal.Sample(random, 0, 0.006);
            slow[i] = 1 - 0.51 * (1 - s) * (1 - Math.Exp(-k * 90)) + Normal.Sample(random, 0, 0.006);
        }

        return (fast, slow);
    }

    private static double LnRateOf(double fast, double slow)
    {
        double labile = 0.51 * (1 - fast) / 0.78;
        return Math.Log(-Math.Log(1 - (1 - slow) / labile) / 90);
    }
}
