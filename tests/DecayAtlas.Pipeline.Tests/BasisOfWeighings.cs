using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>
/// One burial, worked out by hand as matter: whatever is weighed of it and stated of its lots, k and S must come out the same.
/// <code>
/// fast   2.000 g dry: ash 5 % = 0.100 g, organic 1.900 g, of which 84 % is not acid-insoluble (6 % non-polar)
///        S 0.25: 0.84 · 0.75 = 63 % of the organic matter is gone, 1.900 · 0.37 = 0.703 g are left, with the ash 0.803 g
/// slow   2.000 g dry: ash 3 % = 0.060 g, organic 1.940 g, of which 55 % is not acid-insoluble (5 % non-polar)
///        k 0.01 d⁻¹, 90 d: 0.55 · 0.75 · (1 - exp(-0.9)) = 24.479 % is gone, 1.940 · 0.75521 = 1.465107 g are left, with ash 1.525107
/// H of dry litter: 0.84 · 0.95 = 0.798 and 0.55 · 0.97 = 0.5335; without the non-polar 0.78 and 0.50 of organic matter
/// </code>
/// </summary>
public class BasisOfWeighings
{
    private const double FastLeft = 0.703, Tare = 0.25;
    private static readonly double SlowLeft = 1.94 * (1 - 0.4125 * (1 - Math.Exp(-0.9)));

    public enum Stated
    {
        Both,
        One,
        None,
    }

    public static TheoryData<MassBasis, Drying?, double, Stated, FractionBasis, HydrolysableParts> Statements()
    {
        TheoryData<MassBasis, Drying?, double, Stated, FractionBasis, HydrolysableParts> all = [];
        foreach ((MassBasis gross, (Drying drying, double water), Stated ash, FractionBasis basis, HydrolysableParts parts) in
            from gross in Enum.GetValues<MassBasis>()
            from handling in new[] { (Drying.Oven, 0.0), (Drying.None, 0.06), (Drying.Air, 0.045) }
            from ash in Enum.GetValues<Stated>()
            from basis in Enum.GetValues<FractionBasis>()
            from parts in Enum.GetValues<HydrolysableParts>()
            select (gross, handling, ash, basis, parts))
        {
            all.Add(gross, drying, water, ash, basis, parts);
        }

        return all;
    }

    [Theory]
    [MemberData(nameof(Statements))]
    public void The_same_matter_gives_the_same_k_and_S_whatever_is_weighed_and_stated(
        MassBasis gross, Drying? drying, double water, Stated ash, FractionBasis basis, HydrolysableParts parts)
    {
        WeighedBurial burial = Weighed(gross, drying, water, ash, basis, parts);

        Assert.Equal(0.25, burial.StabilisationFactor.Value!.Value, 1e-9);
        Assert.Equal(0.01, burial.Rate.Value!.RatePerDay.Value, 1e-9);
        // ash-free only where both bags are: 0.803 of 2.000 g dry is 0.703 of 1.900 g organic
        Assert.Equal(ash == Stated.Both, burial.Fast.Value!.IsAshFree);
        Assert.Equal(ash == Stated.Both ? 0.37 : 0.4015, burial.Fast.Value.Fraction, 1e-9);
    }

    [Fact]
    public void Soil_that_sticks_is_taken_out_by_ash_of_both_bags_and_not_by_ash_of_one()
    {
        // 0.100 g of soil on the fast litter: 0.903 g, of which 0.200 g is ash
        double ashFast = 0.2 / 0.903, ashSlow = 0.06 / (SlowLeft + 0.06);
        WeighedBurial both = WeighedBurial.Of(
            [(FastBag(0.903) with { AshFraction = ashFast }, Fast), (SlowBag() with { AshFraction = ashSlow }, Slow)], Assumed);
        WeighedBurial one = WeighedBurial.Of([(FastBag(0.903) with { AshFraction = ashFast }, Fast), (SlowBag(), Slow)], Assumed);

        Assert.Equal(0.25, both.StabilisationFactor.Value!.Value, 1e-9);
        Assert.Equal(0.01, both.Rate.Value!.RatePerDay.Value, 1e-9);
        // dry: w = 0.4515, S = 1 - 0.5485/0.798 = 0.3126566
        Assert.Equal(0.3126566, one.StabilisationFactor.Value!.Value, 1e-7);
        Assert.False(one.Slow.Value!.IsAshFree);
        // a_s = 0.5335 · 0.6873434 = 0.3666977, slow loss 0.97 · 0.2447900 = 0.2374463; k = ln(0.3666977/0.1292514)/90
        Assert.Equal(Math.Log(0.3666977 / 0.1292514) / 90, one.Rate.Value!.RatePerDay.Value, 1e-7);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.03)]
    [InlineData(0.06)]
    [InlineData(0.10)]
    public void Where_nothing_is_said_of_water_the_interval_holds_the_truth(double water)
    {
        WeighedBurial silent = Weighed(
            MassBasis.Gross, null, water, Stated.None, FractionBasis.Dry, HydrolysableParts.AllSoluble, moisture: null, lotMoisture: null);
        WeighedBurial dried = Weighed(MassBasis.Gross, Drying.Oven, 0, Stated.None, FractionBasis.Dry, HydrolysableParts.AllSoluble);
        Estimate k = silent.Rate.Value!.RatePerDay, s = silent.StabilisationFactor.Value!;

        Assert.InRange(0.01, k.Value - 1.96 * k.Uncertainty, k.Value + 1.96 * k.Uncertainty);
        Assert.InRange(0.25, s.Value - 1.96 * s.Uncertainty, s.Value + 1.96 * s.Uncertainty);
        Assert.True(k.UncertaintyBatch > 3 * dried.Rate.Value!.RatePerDay.UncertaintyBatch, "nothing said must cost certainty");
    }

    /// <summary>A sheet says what the lot held when it was supplied; the litter took up, or gave off, anything up to a tenth since. In
    /// grams, with a chemistry that is not the declared, and no formula of the code.</summary>
    [Theory]
    [InlineData(null, 0.065, 0.082)]
    [InlineData(null, 0.0, 0.0)]
    [InlineData(null, null, null)]
    [InlineData(Drying.Air, 0.065, 0.082)]
    public void A_sheet_with_less_water_does_not_narrow_the_intervals_of_litter_of_which_nothing_is_said(
        Drying? drying, double? fastSheet, double? slowSheet)
    {
        const int burials = 3000;
        Xoshiro256StarStar random = new(14, threadSafe: false);
        LotRow fast = Fast with { HydrolysableFractionSd = 0.010, MoistureFraction = fastSheet, MoistureFractionSd = 0.003 },
            slow = Slow with { HydrolysableFractionSd = 0.008, MoistureFraction = slowSheet, MoistureFractionSd = 0.003 };
        int heldRate = 0, heldS = 0;
        for (int i = 0; i < burials; i++)
        {
            double losesFast = Normal.Sample(random, 0.798, 0.010) * 0.75,
                losesSlow = Normal.Sample(random, 0.5335, 0.008) * 0.75 * (1 - Math.Exp(-0.9));
            BagRow Wet(BagRow bag, double loses)
            {
                double dry = 1.8 + 0.4 * random.NextDouble(), water = 0.1 * random.NextDouble();
                return bag with
                {
                    DryingInitial = drying,
                    MassInitialGrams = dry / (1 - water) + Tare,
                    MassFinalGrams = dry * (1 - loses) + Tare,
                };
            }

            WeighedBurial burial = WeighedBurial.Of([(Wet(FastBag(0), losesFast), fast), (Wet(SlowBag(), losesSlow), slow)], Assumed);
            RateInterval k = burial.RateInterval!;
            Estimate s = burial.StabilisationFactor.Value!;
            heldRate += (k.Lower95PerDay ?? 0) <= 0.01 && 0.01 <= (k.Upper95PerDay ?? double.PositiveInfinity) ? 1 : 0;
            heldS += Math.Abs(s.Value - 0.25) <= 1.96 * s.Uncertainty ? 1 : 0;
        }

        Assert.True(heldRate >= 0.93 * burials, $"k: {heldRate} of {burials}");
        Assert.True(heldS >= 0.93 * burials, $"S: {heldS} of {burials}");
    }

    /// <summary>By hand: 0 to 0.10, so mean 0.05; and with a wetter sheet 0 to 0.12 + 1.96 · 0.01 = 0.1396, so mean 0.0698.</summary>
    [Theory]
    [InlineData(null, 0.05)]
    [InlineData(0.0, 0.05)]
    [InlineData(0.06, 0.05)]
    [InlineData(0.12, 0.0698)]
    public void Nothing_said_is_never_narrower_than_litter_dried_in_air(double? sheet, double mean)
    {
        Water unspoken = Water.Unspoken(sheet, 0.01, MeasurementAssumptions.Default);
        Assert.Equal(mean, unspoken.Share, 1e-12);
        Assert.Equal(2 * mean / Math.Sqrt(12), unspoken.SdBatch, 1e-12);
    }

    [Fact]
    public void Water_that_passes_for_dry_litter_moves_k_by_29_per_cent()
    {
        // H 0.78 and 0.51, S 0.25, k 0.01, 90 d: w_f = 0.415, w_s = 1 - 0.3825 (1 - exp(-0.9)) = 0.7730129; with 6 % of water in the first
        // weighing 0.94 times that: S = 1 - 0.6099/0.78 = 0.2180769; a_s = 0.3987808, left = 0.3987808 - 0.2733679 = 0.1254129
        LotRow fast = Fast with { HydrolysableFraction = 0.78 }, slow = Slow with { HydrolysableFraction = 0.51 };
        double slowLeft = 1 - 0.3825 * (1 - Math.Exp(-0.9));
        BagRow fastBag = FastBag(2 * 0.415) with { MassInitialGrams = 2 / 0.94 + Tare };
        BagRow slowBag = SlowBag() with { MassInitialGrams = 2 / 0.94 + Tare, MassFinalGrams = 2 * slowLeft + Tare };
        WeighedBurial silent = WeighedBurial.Of([(fastBag, fast), (slowBag, slow)], Assumed);
        WeighedBurial said = WeighedBurial.Of(
            [(fastBag with { MoistureInitialFraction = 0.06 }, fast), (slowBag with { MoistureInitialFraction = 0.06 }, slow)], Assumed);

        Assert.Equal(0.2180769, silent.StabilisationFactor.Value!.Value, 1e-7);
        Assert.Equal(Math.Log(0.3987808 / 0.1254129) / 90, silent.Rate.Value!.RatePerDay.Value, 1e-7);
        Assert.Equal(0.25, said.StabilisationFactor.Value!.Value, 1e-9);
        Assert.Equal(0.01, said.Rate.Value!.RatePerDay.Value, 1e-9);
    }

    /// <summary>JCGM 100:2008, 5.1.2, by central differences of the equations written out once more, each input moved by one
    /// hundredth of its standard uncertainty.</summary>
    [Theory]
    [MemberData(nameof(Statements))]
    public void Each_part_of_the_uncertainty_is_the_sum_of_squares_of_what_its_inputs_move(
        MassBasis gross, Drying? drying, double water, Stated ash, FractionBasis basis, HydrolysableParts parts)
    {
        WeighedBurial burial = Weighed(gross, drying, water, ash, basis, parts);
        Estimate k = burial.Rate.Value!.RatePerDay, s = burial.StabilisationFactor.Value!;
        bool isGross = gross == MassBasis.Gross, isAshFree = ash == Stated.Both;
        double tareSd = isGross ? 0.01 : 0, tareMeanSd = isGross ? Assumed.TareMeanSdGrams : 0;
        bool isOfLot = drying == Drying.None;

        double reading = 0.001 / Math.Sqrt(12);
        (double Sd, Func<Moved, double, Moved> Move)[] bag =
        [
            (reading, (m, d) => m with { FastInitial = d }), (reading, (m, d) => m with { FastFinal = d }),
            (reading, (m, d) => m with { SlowInitial = d }), (reading, (m, d) => m with { SlowFinal = d }),
            (tareSd, (m, d) => m with { FastTare = d }), (tareSd, (m, d) => m with { SlowTare = d }),
            (isAshFree ? Assumed.AshFractionSd : 0, (m, d) => m with { FastAsh = d }),
            (isAshFree ? Assumed.AshFractionSd : 0, (m, d) => m with { SlowAsh = d }),
            (0.5 * Math.Sqrt(2.0 / 3), (m, d) => m with { Days = d }),
        ];
        (double Sd, Func<Moved, double, Moved> Move)[] batch =
        [
            (isOfLot ? 0 : 0.005, (m, d) => m with { FastWater = d }), (isOfLot ? 0 : 0.005, (m, d) => m with { SlowWater = d }),
            (0.005, (m, d) => m with { FastFinalWater = d }), (0.005, (m, d) => m with { SlowFinalWater = d }),
            (Assumed.BalanceOffsetSdGrams, (m, d) => m with { FastInitial = d, FastFinal = d, SlowInitial = d, SlowFinal = d }),
        ];
        (double Sd, Func<Moved, double, Moved> Move)[] lot =
        [
            (0.023, (m, d) => m with { FastH = d }), (0.05, (m, d) => m with { SlowH = d }),
            (parts == HydrolysableParts.AllSoluble ? 0 : 0.004, (m, d) => m with { FastNonpolar = d }),
            (parts == HydrolysableParts.AllSoluble ? 0 : 0.003, (m, d) => m with { SlowNonpolar = d }),
            (parts == HydrolysableParts.AcidSoluble ? 0.02 : 0, (m, d) => m with { FastWaterSoluble = d }),
            (parts == HydrolysableParts.AcidSoluble ? 0.01 : 0, (m, d) => m with { SlowWaterSoluble = d }),
            (0.005, (m, d) => m with { FastLotAsh = d }), (0.005, (m, d) => m with { SlowLotAsh = d }),
            (tareMeanSd, (m, d) => m with { FastTare = d }), (tareMeanSd, (m, d) => m with { SlowTare = d }),
            (isOfLot ? 0.004 : 0, (m, d) => m with { FastWater = d }), (isOfLot ? 0.004 : 0, (m, d) => m with { SlowWater = d }),
        ];

        foreach ((string part, double u, double uS, (double, Func<Moved, double, Moved>)[] inputs) in new[]
        {
            ("bag", k.UncertaintyBag, s.UncertaintyBag, bag),
            ("batch", k.UncertaintyBatch, s.UncertaintyBatch, batch),
            ("lot", k.UncertaintyLot, s.UncertaintyLot, lot),
        })
        {
            (double ofK, double ofS) = Combined(inputs);
            Assert.True(Math.Abs(ofK / u - 1) < 2e-4, $"k, {part}: {u} by the product, {ofK} by differences");
            Assert.True(Math.Abs(ofS / uS - 1) < 2e-4, $"S, {part}: {uS} by the product, {ofS} by differences");
        }

        (double K, double S) Combined((double Sd, Func<Moved, double, Moved> Move)[] inputs)
        {
            double kk = 0, ss = 0;
            foreach ((double sd, Func<Moved, double, Moved> move) in inputs)
            {
                (double kUp, double sUp) = Solved(move(default, 0.01 * sd));
                (double kDown, double sDown) = Solved(move(default, -0.01 * sd));
                kk += Math.Pow((kUp - kDown) / 0.02, 2);
                ss += Math.Pow((sUp - sDown) / 0.02, 2);
            }

            return (Math.Sqrt(kk), Math.Sqrt(ss));
        }

        (double K, double S) Solved(Moved by)
        {
            double tare = isGross ? Tare : 0;
            double H(
                double organic, double nonpolar, double waterSoluble, double lotAsh, double moved, double movedNonpolar, double movedWater)
            {
                double onBasis = basis == FractionBasis.Dry ? 1 - (organic > 0.7 ? 0.05 : 0.03) : 1;
                double stated = parts switch
                {
                    HydrolysableParts.AllSoluble => organic * onBasis + moved,
                    HydrolysableParts.WaterAndAcidSoluble => (organic - nonpolar) * onBasis + moved + nonpolar * onBasis + movedNonpolar,
                    _ => (organic - nonpolar - waterSoluble) * onBasis + moved + nonpolar * onBasis + movedNonpolar
                        + waterSoluble * onBasis + movedWater,
                };
                return (basis, isAshFree) switch
                {
                    (FractionBasis.Dry, true) => stated / (1 - lotAsh),
                    (FractionBasis.AshFree, false) => stated * (1 - lotAsh),
                    _ => stated,
                };
            }

            double W(double initial, double final, double movedTare, double wet, double wetFinal, double ashBag, double lotAsh) =>
                (final - movedTare) * (1 - wetFinal) * (isAshFree ? 1 - ashBag : 1)
                / ((initial - movedTare) * (1 - wet) * (isAshFree ? 1 - lotAsh : 1));

            double lotAshFast = 0.05 + by.FastLotAsh, lotAshSlow = 0.03 + by.SlowLotAsh;
            double wf = W(2 / (1 - water) + tare + by.FastInitial, FastLeft + 0.1 + tare + by.FastFinal, tare + by.FastTare,
                water + by.FastWater, by.FastFinalWater, 0.1 / (FastLeft + 0.1) + by.FastAsh, lotAshFast);
            double ws = W(2 / (1 - water) + tare + by.SlowInitial, SlowLeft + 0.06 + tare + by.SlowFinal, tare + by.SlowTare,
                water + by.SlowWater, by.SlowFinalWater, 0.06 / (SlowLeft + 0.06) + by.SlowAsh, lotAshSlow);
            double hf = H(0.84, 0.06, 0.45, lotAshFast, by.FastH, by.FastNonpolar, by.FastWaterSoluble);
            double hs = H(0.55, 0.05, 0.20, lotAshSlow, by.SlowH, by.SlowNonpolar, by.SlowWaterSoluble);
            double stabilisation = 1 - (1 - wf) / hf, decomposable = hs * (1 - stabilisation);
            return (Math.Log(decomposable / (ws - 1 + decomposable)) / (90 + by.Days), stabilisation);
        }
    }

    /// <summary>By how much each input is moved.</summary>
    private readonly record struct Moved(
        double FastInitial, double FastFinal, double SlowInitial, double SlowFinal, double FastTare, double SlowTare, double FastAsh,
        double SlowAsh, double Days, double FastWater, double SlowWater, double FastFinalWater, double SlowFinalWater, double FastH,
        double SlowH, double FastNonpolar, double SlowNonpolar, double FastWaterSoluble, double SlowWaterSoluble, double FastLotAsh,
        double SlowLotAsh);

    private static readonly MeasurementAssumptions Assumed = MeasurementAssumptions.Default;

    private static readonly LotRow Fast = Given.FastLot with
    {
        HydrolysableFraction = 0.798,
        AshFraction = 0.05,
        TareGrams = Tare,
        TareSdGrams = 0.01,
    };

    private static readonly LotRow Slow = Given.SlowLot with
    {
        HydrolysableFraction = 0.5335,
        AshFraction = 0.03,
        TareGrams = Tare,
        TareSdGrams = 0.01,
    };

    private static BagRow FastBag(double finalGrams) => Given.FastBag with
    {
        MassInitialGrams = 2 + Tare,
        MassFinalGrams = finalGrams + Tare,
        BuriedOn = new(2024, 4, 1),
        RetrievedOn = new(2024, 6, 30),
    };

    private static BagRow SlowBag() => Given.SlowBag with
    {
        MassInitialGrams = 2 + Tare,
        MassFinalGrams = SlowLeft + 0.06 + Tare,
        BuriedOn = new(2024, 4, 1),
        RetrievedOn = new(2024, 6, 30),
    };

    /// <param name="moisture">Measured on a subsample, of litter dried in air.</param>
    private static WeighedBurial Weighed(
        MassBasis gross, Drying? drying, double water, Stated ash, FractionBasis basis, HydrolysableParts parts, double? moisture = 0.045,
        double? lotMoisture = 0.06)
    {
        double tare = gross == MassBasis.Gross ? Tare : 0;
        LotRow Lot(LotRow lot, double organic, double nonpolar, double nonpolarSd, double waterSoluble, double waterSolubleSd)
        {
            double onBasis = basis == FractionBasis.Dry ? 1 - lot.AshFraction!.Value : 1;
            double counted = parts switch
            {
                HydrolysableParts.AllSoluble => organic,
                HydrolysableParts.WaterAndAcidSoluble => organic - nonpolar,
                _ => organic - nonpolar - waterSoluble,
            };
            return lot with
            {
                HydrolysableFraction = counted * onBasis,
                HydrolysableBasis = basis,
                HydrolysableParts = parts,
                NonpolarFraction = nonpolar * onBasis,
                NonpolarFractionSd = nonpolarSd,
                WaterSolubleFraction = waterSoluble * onBasis,
                WaterSolubleFractionSd = waterSolubleSd,
                MoistureFraction = lotMoisture,
                MoistureFractionSd = 0.004,
            };
        }

        BagRow Bag(BagRow bag, double final, double? ashFraction) => bag with
        {
            MassBasis = gross,
            DryingInitial = drying,
            MoistureInitialFraction = drying == Drying.Air ? moisture : null,
            MassInitialGrams = 2 / (1 - water) + tare,
            MassFinalGrams = final + tare,
            AshFraction = ashFraction,
        };

        return WeighedBurial.Of(
        [
            (Bag(FastBag(0), FastLeft + 0.1, ash == Stated.None ? null : 0.1 / (FastLeft + 0.1)), Lot(Fast, 0.84, 0.06, 0.004, 0.45, 0.02)),
            (
                Bag(SlowBag(), SlowLeft + 0.06, ash == Stated.Both ? 0.06 / (SlowLeft + 0.06) : null),
                Lot(Slow, 0.55, 0.05, 0.003, 0.20, 0.01)),
        ], Assumed);
    }
}
