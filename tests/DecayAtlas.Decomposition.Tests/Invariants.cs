using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests;

/// <summary>What must hold for every burial, checked on generated ones.</summary>
public class Invariants
{
    private static readonly LitterLot Fast = new(0.842, 0.023);
    private static readonly LitterLot Slow = new(0.552, 0.050);

    private static RemainingFraction W(double w, double grams = 2, double resolution = 0.01, LitterLot? lot = null) => RemainingFraction.Of(
        new BagWeighing(grams, grams * w, MassBasis.Litter, null, resolution), lot ?? Slow, MeasurementAssumptions.Default).Value!;

    private static Estimate? K(double wf, double ws, double days = 90, double resolution = 0.01) => TwoLitterIndex.RatePerDay(
        W(wf, 2, resolution, Fast), W(ws, 2, resolution), new Exposure(days, 0.4)).Value;

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
        return TwoLitterIndex.StabilisationFactor(W(wf - 0.01, lot: Fast)).Value!.Value
             < TwoLitterIndex.StabilisationFactor(W(wf, lot: Fast)).Value!.Value;
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

    /// <summary>Every input that is uncertain, doubled in turn: the uncertainty of k grows with each, and that of S with each that S is
    /// made of.</summary>
    [Property]
    public bool Uncertainty_grows_with_that_of_each_input(uint a, uint b)
    {
        double wf = 0.35 + 0.3 * Unit(a), ws = 0.8 + 0.12 * Unit(b);
        if (Both(wf, ws, null) is not { } before)
            return true;
        return Enum.GetValues<Doubled>().All(input =>
        {
            RateAndStabilisation after = Both(wf, ws, input)!;
            bool isInS = input is not (Doubled.Days or Doubled.SlowHydrolysable or Doubled.SlowAsh);
            return after.RatePerDay.Uncertainty > before.RatePerDay.Uncertainty
                && after.RatePerDay.Value == before.RatePerDay.Value
                && (isInS ? after.StabilisationFactor.Uncertainty > before.StabilisationFactor.Uncertainty
                    : after.StabilisationFactor.Uncertainty == before.StabilisationFactor.Uncertainty);
        });
    }

    private enum Doubled
    {
        Balance,
        BalanceOffset,
        Tare,
        TareMean,
        InitialWater,
        Moisture,
        BagAsh,
        FastAsh,
        SlowAsh,
        FastHydrolysable,
        SlowHydrolysable,
        Days,
    }

    private static RateAndStabilisation? Both(double wf, double ws, Doubled? input)
    {
        double F(Doubled which) => input == which ? 2 : 1;
        LitterLot fast = new(0.842, 0.02 * F(Doubled.FastHydrolysable), 0.05, 0.004 * F(Doubled.FastAsh), 0.25, 0.01 * F(Doubled.Tare));
        LitterLot slow = new(0.552, 0.03 * F(Doubled.SlowHydrolysable), 0.04, 0.004 * F(Doubled.SlowAsh), 0.25, 0.01 * F(Doubled.Tare));
        MeasurementAssumptions assumed = new()
        {
            AshFractionSd = 0.004 * F(Doubled.BagAsh),
            TareMeanSdGrams = 0.004 * F(Doubled.TareMean),
            BalanceOffsetSdGrams = 0.004 * F(Doubled.BalanceOffset),
        };
        RemainingFraction W(double w, LitterLot lot) => RemainingFraction.Of(
            new BagWeighing(2.25, 0.25 + 2 * w, MassBasis.Gross, 0.06, 0.01 * F(Doubled.Balance),
                Water.Measured(0.03, 0.005 * F(Doubled.InitialWater)), Water.Measured(0.02, 0.005 * F(Doubled.Moisture))), lot,
            assumed).Value!;
        return RateAndStabilisation.Of(W(wf, fast), W(ws, slow), new Exposure(90, 0.4 * F(Doubled.Days))).Value;
    }

    [Property]
    public bool Permuting_the_burials_of_a_site_changes_nothing(ulong seed, bool hasPlots)
    {
        RandomStream random = new(seed, "permuted");
        SiteBurial[] burials = [.. Enumerable.Range(0, 3 + random.NextIndex(12)).Select(i => new SiteBurial(
            random.NextNormalPair().First,
            new SharedPart(
                new($"f{i % 2}", $"s{i % 3}", $"b{i % 4}", $"b{i % 4}"),
                new SharedErrors(new(0.1, 0.05, InitialWater: 0.02), new(-0.2, 0.01 * i, Balance: 0.03))), hasPlots ? $"p{i % 3}" : null))];
        SiteBurial[] permuted = [.. burials];
        for (int i = permuted.Length - 1; i > 0; i--)
        {
            int j = random.NextIndex(i + 1);
            (permuted[i], permuted[j]) = (permuted[j], permuted[i]);
        }

        return SiteInterval.Of(burials).Equals(SiteInterval.Of(permuted))
            && SiteBootstrap.Of(burials, new(100)).Equals(SiteBootstrap.Of(permuted, new(100)));
    }
}
