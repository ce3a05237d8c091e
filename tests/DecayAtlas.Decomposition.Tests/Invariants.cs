using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests;

/// <summary>What must hold for every burial, checked on generated ones.</summary>
public class Invariants
{
    private static readonly LitterLot Fast = new(0.842, 0.023);
    private static readonly LitterLot Slow = new(0.552, 0.050);

    private static RemainingFraction W(double w, double grams = 2, double resolution = 0.01) => RemainingFraction.Of(
        new BagWeighing(grams, grams * w, MassBasis.Litter, null, resolution), Slow, MeasurementAssumptions.Default).Value!;

    private static Estimate? K(double wf, double ws, double days = 90, double resolution = 0.01) => TwoLitterIndex.RatePerDay(
        W(wf, 2, resolution), Fast, W(ws, 2, resolution), Slow, new Exposure(days, 0.4)).Value;

    private static double Unit(uint seed) => seed % 10_007 / 10_007.0;

    [Property]
    public bool K_rises_with_slow_loss(uint a, uint b)
    {
        double wf = 0.1 + 0.6 * Unit(a), ws = 0.8 + 0.15 * Unit(b);
        return K(wf, ws - 0.01) is not { } more || K(wf, ws) is not { } less || more.Value > less.Value;
    }

    [Property]
    public bool S_falls_with_fast_loss(uint a)
    {
        double wf = 0.1 + 0.8 * Unit(a);
        return TwoLitterIndex.StabilisationFactor(W(wf - 0.01), Fast).Value!.Value
             < TwoLitterIndex.StabilisationFactor(W(wf), Fast).Value!.Value;
    }

    [Property]
    public bool K_halves_when_the_days_double(uint a, uint b)
    {
        double wf = 0.1 + 0.6 * Unit(a), ws = 0.8 + 0.15 * Unit(b);
        return K(wf, ws, 90) is not { } once || Math.Abs(K(wf, ws, 180)!.Value * 2 - once.Value) < 1e-14;
    }

    [Property]
    public bool The_unit_of_mass_does_not_matter(uint a)
    {
        double w = 0.1 + 0.8 * Unit(a);
        return Math.Abs(W(w, 2, 0.01).UncertaintyBag - W(w, 2000, 10).UncertaintyBag) < 1e-12;
    }

    [Property]
    public bool Uncertainty_grows_with_a_coarser_balance(uint a, uint b)
    {
        double wf = 0.1 + 0.6 * Unit(a), ws = 0.8 + 0.15 * Unit(b);
        return K(wf, ws, 90, 0.1) is not { } coarse || coarse.UncertaintyBag > K(wf, ws, 90, 0.01)!.UncertaintyBag;
    }
}
