namespace DecayAtlas.Questions.Tests.Sensitivity;

/// <summary>One burial under suppositions, against values worked by hand: k 0.01, S 0.25, 90 days, H 0.78 and 0.51, so that the fast litter
/// loses 0.585 and the slow one 0.3825 (1 - exp(-0.9)) = 0.22698710515.</summary>
public class SupposedWeighings
{
    private static (double? RatePerDay, double? Stabilisation) Under(ReleasedWeighing burial, Supposition supposed) =>
        burial.Under(supposed, MeasurementAssumptions.Default);

    private static Supposition Own(
        double? hFast = null, double? hSlow = null, double? water = null, double? over = null) =>
        new OwnSupposition(hFast, hSlow, water, null, over).Of(SmallRelease.Basis);

    [Fact]
    public void Six_per_cent_of_unspoken_water_give_S_0_218_for_0_25_and_k_0_0129_for_0_0100()
    {
        ReleasedWeighing burial = new SmallRelease().Bury("s", 1, water: 0.06);

        // dry at both ends: the truth
        (double? k, double? s) = Under(burial, Own(water: 0.06));
        Assert.Equal(0.01, k!.Value, 12);
        Assert.Equal(0.25, s!.Value, 12);

        // taken as dry: losses 1 - 0.94 · 0.415 = 0.6099 and 1 - 0.94 · 0.77301289485 = 0.27336787884; S = 1 - 0.6099/0.78;
        // a_s = 0.51 · 0.6099/0.78 = 0.39878076923; k = ln(0.39878076923/0.12541289039)/90
        (k, s) = Under(burial, Own(water: 0));
        Assert.Equal(0.218076923077, s!.Value, 12);
        Assert.Equal(0.012853337758, k!.Value, 12);
    }

    [Fact]
    public void What_was_said_of_water_stays()
    {
        ReleasedWeighing dried = new SmallRelease().Bury("s", 1);
        Assert.Equal(0.01, Under(dried, Own(water: 0.06)).RatePerDay!.Value, 12);
    }

    [Fact]
    public void H_of_the_fast_lot_one_standard_uncertainty_higher_raises_S_and_k()
    {
        Supposition high = Suppositions.Of(SmallRelease.Basis).Single(s => s.Id == "h-fast-high");

        (double? k, double? s) = Under(new SmallRelease().Bury("s", 1), high);

        // H 0.80: S = 1 - 0.585/0.80; a_s = 0.51 · 0.585/0.80 = 0.3729375; k = ln(0.3729375/0.14595039485)/90
        Assert.Equal(0.26875, s!.Value, 12);
        Assert.Equal(0.010423822696, k!.Value, 12);
        Assert.Equal((k, s), Under(new SmallRelease().Bury("s", 1), Own(hFast: 0.80)));
    }

    [Fact]
    public void A_plateau_that_was_not_reached_is_corrected()
    {
        // k 0.003, 60 days, S 0.25, the fast litter eight times as fast: it loses 0.78 · 0.75 · (1 - exp(-1.44)), as if S were 0.4277
        double share = 1 - Math.Exp(-1.44);
        ReleasedWeighing burial = new SmallRelease().Bury("s", 1, k: -Math.Log(1 - (1 - Math.Exp(-0.18)) / share) / 60, s: 1 - 0.75 * share,
            days: 60);
        Assert.Equal(0.427695819, Under(burial, Own(water: 0)).Stabilisation!.Value, 8);

        (double? k, double? s) = Under(burial, Own(over: 8));

        Assert.Equal(0.003, k!.Value, 10);
        Assert.Equal(0.25, s!.Value, 8);
    }

    [Fact]
    public void Without_a_correction_that_fits_there_is_neither_k_nor_S()
    {
        // 1 - exp(-k t) = 0.12 is below 1/8: not even a fast litter that has only begun would have lost so much beside the slow one
        ReleasedWeighing burial = new SmallRelease().Bury("s", 1, k: -Math.Log(0.88) / 60, days: 60);
        Assert.Equal((null, null), Under(burial, Own(over: 8)));
    }

    [Fact]
    public void Every_supposition_has_an_id_of_its_own() =>
        Assert.Equal(Suppositions.Of(SmallRelease.Basis).Count, Suppositions.Of(SmallRelease.Basis).Select(s => s.Id).Distinct().Count());
}
