namespace DecayAtlas.Decomposition.Tests;

/// <summary>What a fast litter short of its plateau does to k and S, worked by hand from first-order loss of both litters.</summary>
public class FastPlateaus
{
    private const double TrueRate = 0.003, TrueStabilisation = 0.25, Days = 60, FastOverSlow = 8;

    // k 0.003 and 60 days: p = 1 - exp(-8 · 0.18) = 0.7630722; S' = 1 - 0.75 · 0.7630722 = 0.4276958;
    // 1 - exp(-0.18) = 0.1647298; over p 0.2158771; k' = -ln(1 - 0.2158771)/60 = 0.243189.../60 = 0.0040532
    private const double ShareReached = 0.763072241, ApparentStabilisation = 0.427695819, ApparentRate = 0.00405316;

    [Fact]
    public void A_cold_burial_of_60_days_shows_an_S_of_0_43_for_0_25()
    {
        // H 0.78 and 0.51: fast loses 0.78 · 0.75 · p, slow 0.51 · 0.75 · (1 - exp(-0.18))
        LitterLot fastLot = new(0.78, 0), slowLot = new(0.51, 0);
        double fastLoss = 0.78 * 0.75 * (1 - Math.Exp(-1.44)), slowLoss = 0.51 * 0.75 * (1 - Math.Exp(-0.18));
        RemainingFraction fast = Of(fastLoss, fastLot), slow = Of(slowLoss, slowLot);

        double s = TwoLitterIndex.StabilisationFactor(fast).Value!.Value;
        double k = TwoLitterIndex.RatePerDay(fast, slow, new Exposure(Days, 0)).Value!.Value;

        Assert.Equal(ApparentStabilisation, s, 8);
        Assert.Equal(ApparentRate, k, 7);
        FastPlateau plateau = FastPlateau.Of(s, k, Days, FastOverSlow);
        Assert.Equal(ShareReached, plateau.ShareReached!.Value, 8);
        Assert.Equal(TrueStabilisation, plateau.StabilisationFactor!.Value, 9);
        Assert.Equal(TrueRate, plateau.RatePerDay!.Value, 11);

        static RemainingFraction Of(double loss, LitterLot lot) =>
            RemainingFraction.Of(new BagWeighing(2, 2 * (1 - loss), MassBasis.Litter), lot, MeasurementAssumptions.Default).Value!;
    }

    [Theory]
    [InlineData(0.0005, 3)]
    [InlineData(0.003, 8)]
    [InlineData(0.012, 8)]
    [InlineData(0.05, 20)]
    [InlineData(0.2, 1.5)]
    public void The_correction_finds_the_truth_that_the_index_was_made_from(double rate, double over)
    {
        double p = 1 - Math.Exp(-over * rate * 90);
        double apparentRate = -Math.Log(1 - (1 - Math.Exp(-rate * 90)) / p) / 90;

        FastPlateau plateau = FastPlateau.Of(1 - 0.7 * p, apparentRate, 90, over);

        Assert.Equal(rate, plateau.RatePerDay!.Value, 1e-7 * rate);
        Assert.Equal(0.3, plateau.StabilisationFactor!.Value, 6);
    }

    [Fact]
    public void Where_the_slow_litter_lost_less_than_an_eighth_of_the_fast_one_nothing_is_corrected()
    {
        // 1 - exp(-k' t) = 0.12 is below 1/8: not even x = 0 fits
        FastPlateau plateau = FastPlateau.Of(0.4, -Math.Log(0.88) / 60, 60, 8);

        Assert.Null(plateau.ShareReached);
        Assert.Null(plateau.RatePerDay);
        Assert.Null(plateau.StabilisationFactor);
    }
}
