namespace DecayAtlas.Decomposition.Tests;

/// <summary>
/// k and S of single burials against values worked out by hand (each step in the comment, the last digits by a calculator in double
/// precision) from the equations of Keuskamp et al. 2013, doi:10.1111/2041-210X.12097. Lot chemistry H 0.842 and 0.552: same paper, value
/// from memory.
/// </summary>
public class HandComputedBurials
{
    private static readonly LitterLot Fast = new(0.842, 0.023);
    private static readonly LitterLot Slow = new(0.552, 0.050);

    private static RemainingFraction W(double initial, double final, LitterLot lot, MassBasis basis = MassBasis.Litter, double? ash = null)
        => RemainingFraction.Of(new BagWeighing(initial, final, basis, ash, 0.001), lot, MeasurementAssumptions.Default).Value!;

    [Theory]
    // initial and final mass fast, slow (g), days; a_f, then S, then k by hand:
    // 1 - 0.7371/2 = 0.63145; S = 1 - 0.63145/0.842 = 0.2500594; a_s = 0.4139672; left = 0.4139672 - 0.25 = 0.1639672; ln(2.5246955)/90
    [InlineData(2, 0.7371, 2, 1.5, 90, 0.250059382422803, 0.0102902250980552)]
    // 0.75; S = 0.1092637; a_s = 0.4916865; left = 0.0916865; ln(5.3626944)/90
    [InlineData(2, 0.5, 2, 1.2, 90, 0.109263657957245, 0.0186607390754954)]
    // 0.1666667; S = 0.8020586; a_s = 0.1092637; left = 0.0854541; ln(1.2786240)/60
    [InlineData(1.8, 1.5, 2.1, 2.05, 60, 0.802058590657165, 0.0040964008749954)]
    // 0.9; S = -0.0688836, below zero and kept; a_s = 0.5900238; left = 0.0900238; ln(6.5540886)/120
    [InlineData(2, 0.2, 2, 1.0, 120, -0.068883610451306, 0.0156674103164245)]
    // slow litter gained 0.04 g: k below zero and kept; a_s = 0.3605701; left = 0.3805701
    [InlineData(2, 0.9, 2, 2.04, 90, 0.346793349168646, -0.0005998222869493)]
    public void K_and_S_equal_the_values_worked_by_hand(
        double fastInitial, double fastFinal, double slowInitial, double slowFinal, double days, double s, double k)
    {
        RemainingFraction fast = W(fastInitial, fastFinal, Fast), slow = W(slowInitial, slowFinal, Slow);

        Assert.Equal(s, TwoLitterIndex.StabilisationFactor(fast).Value!.Value, 12);
        double computed = TwoLitterIndex.RatePerDay(fast, slow, new Exposure(days, 0)).Value!.Value;
        Assert.Equal(k, computed, 14);
    }

    [Fact]
    public void Tare_is_taken_off_gross_masses()
    {
        LitterLot fast = Fast with { TareGrams = 0.25 }, slow = Slow with { TareGrams = 0.25 };
        // litter masses 2.0 -> 0.6 and 2.1 -> 1.6 g: a_f = 0.7, S = 0.1686461, a_s = 0.4589074, left = 0.2208121, k = ln(2.0782704)/92
        double k = TwoLitterIndex.RatePerDay(
            W(2.25, 0.85, fast, MassBasis.Gross), W(2.35, 1.85, slow, MassBasis.Gross), new Exposure(92, 0)).Value!.Value;

        Assert.Equal(0.0079514797691410, k, 14);
    }

    [Fact]
    public void Ash_free_dry_mass_is_used_where_bag_and_lot_ash_are_known()
    {
        LitterLot lot = Fast with { AshFraction = 0.05 };
        // 2.0 g with 5 % ash hold 1.9 g organic; 0.8 g with 20 % ash (soil stuck to it) hold 0.64 g: w = 0.64/1.9 = 0.3368421
        RemainingFraction w = W(2.0, 0.8, lot, ash: 0.20);

        Assert.True(w.IsAshFree);
        Assert.Equal(0.64 / 1.9, w.Fraction, 12);
        Assert.False(W(2.0, 0.8, Fast, ash: 0.20).IsAshFree);
    }

    [Theory]
    [InlineData(2, 2.0, 2, 1.9, 90, MissingReason.FastLossNotPositive)]
    [InlineData(2, 2.1, 2, 1.9, 90, MissingReason.FastLossNotPositive)]
    [InlineData(2, 1.5, 2, 1.3, 90, MissingReason.SlowLossAtPlateau)]
    [InlineData(2, 0.7, 2, 1.5, 0, MissingReason.ExposureNotPositive)]
    [InlineData(2, 0.7, 2, 1.5, -9, MissingReason.ExposureNotPositive)]
    public void Outside_its_domain_k_is_missing_with_the_reason(
        double fastInitial, double fastFinal, double slowInitial, double slowFinal, double days, MissingReason reason)
    {
        Computed<Estimate> k = TwoLitterIndex.RatePerDay(
            W(fastInitial, fastFinal, Fast), W(slowInitial, slowFinal, Slow), new Exposure(days, 0));

        Assert.Null(k.Value);
        Assert.Equal(reason, k.Reason);
    }

    [Theory]
    [InlineData(null, 1.0, MassBasis.Litter, MissingReason.MassNotReported)]
    [InlineData(2.0, null, MassBasis.Litter, MissingReason.MassNotReported)]
    [InlineData(2.0, 1.0, MassBasis.Gross, MissingReason.TareNotReported)]
    [InlineData(0.0, 1.0, MassBasis.Litter, MissingReason.MassNotPositive)]
    [InlineData(2.0, -0.1, MassBasis.Litter, MissingReason.MassNotPositive)]
    public void A_weighing_that_gives_no_fraction_says_why(double? initial, double? final, MassBasis basis, MissingReason reason)
    {
        Computed<RemainingFraction> w = RemainingFraction.Of(
            new BagWeighing(initial, final, basis), Fast, MeasurementAssumptions.Default);

        Assert.Null(w.Value);
        Assert.Equal(reason, w.Reason);
    }

    [Fact]
    public void Every_reason_has_its_own_code()
    {
        string[] codes = [.. Enum.GetValues<MissingReason>().Select(r => r.Code())];

        Assert.Equal(codes.Length, codes.Distinct().Count());
        Assert.All(codes, c => Assert.Matches("^[a-z]+(-[a-z]+)*$", c));
    }
}
