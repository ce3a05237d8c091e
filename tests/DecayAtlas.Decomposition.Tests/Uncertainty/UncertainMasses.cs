using MathNet.Numerics.Statistics;

namespace DecayAtlas.Decomposition.Tests.Uncertainty;

/// <summary>
/// Masses that are means of several bags, or less an empty bag that was weighed. Numbers from R 4: the formulas of k and S written out
/// there, their first-order uncertainty by central differences, and the standard deviations of 4 million draws.
/// </summary>
public class UncertainMasses
{
    // fast 2.00 to 0.90 g, u 0.06 and 0.003; slow 2.20 to 1.60 g, u 0.05 and 0.02; a balance of 0.01 g; H 0.8 and 0.55 exactly; 90 days
    private static readonly LitterLot FastLot = new(0.8, 0, null, null, null, null), SlowLot = new(0.55, 0, null, null, null, null);

    private static readonly MeasurementAssumptions Assumed = new() { BalanceOffsetSdGrams = 0, MoistureSd = 0 };

    private static BagWeighing Fast(double first, double last) => new(2.00, 0.90, MassBasis.Litter, null, 0.01)
    {
        MassInitialSdGrams = first,
        MassFinalSdGrams = last,
    };

    private static BagWeighing Slow(double first, double last) => new(2.20, 1.60, MassBasis.Litter, null, 0.01)
    {
        MassInitialSdGrams = first,
        MassFinalSdGrams = last,
    };

    private static Exposure NinetyDays => Exposure.Between(new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12), Assumed);

    [Theory]
    [InlineData(0.06, 0.003, 0.05, 0.02, 0.01709373, 0.00212113)]
    [InlineData(0, 0, 0, 0, 0.00197848, 0.00020062)]
    public void K_and_S_are_as_uncertain_as_their_masses(double fastFirst, double fastLast, double slowFirst, double slowLast, double ofS,
        double ofK)
    {
        RemainingFraction fast = RemainingFraction.Of(Fast(fastFirst, fastLast), FastLot, Assumed).Value!,
            slow = RemainingFraction.Of(Slow(slowFirst, slowLast), SlowLot, Assumed).Value!;
        Estimate s = TwoLitterIndex.StabilisationFactor(fast).Value!, k = TwoLitterIndex.RatePerDay(fast, slow, NinetyDays).Value!;
        Assert.Equal((0.3125, 0.01419426), (s.Value, Math.Round(k.Value, 8)));
        Assert.Equal(ofS, s.UncertaintyBag, 7);
        Assert.Equal(ofK, k.UncertaintyBag, 7);
    }

    [Fact]
    public void The_remaining_fraction_of_a_mean_by_hand()
    {
        // w = 0.45; (1/2)²(0.01²/12 + 0.003²) + (0.45/2)²(0.01²/12 + 0.06²), its root
        RemainingFraction w = RemainingFraction.Of(Fast(0.06, 0.003), FastLot, Assumed).Value!;
        Assert.Equal(0.01367498, w.UncertaintyBag, 7);
    }

    [Fact]
    public void Draws_scatter_as_those_of_another_program()
    {
        MonteCarloOptions options = new(100_000, 3);
        BurialInputs burial = new("a", new("f", "s", "b", "b"), Fast(0.06, 0.003), FastLot, Slow(0.05, 0.02), SlowLot, NinetyDays);
        double[] k = new double[options.Draws], s = new double[options.Draws];
        Assert.Null(MonteCarlo.Draw(burial, Assumed, options, k, s));
        // four standard errors of a standard deviation of so many draws are 0.9 %
        Assert.Equal(1, s.StandardDeviation() / 0.0171651, 0.01);
        Assert.Equal(1, k.StandardDeviation() / 0.002235157, 0.01);
    }
}
