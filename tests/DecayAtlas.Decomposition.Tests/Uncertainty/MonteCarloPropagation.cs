using MathNet.Numerics.Statistics;

namespace DecayAtlas.Decomposition.Tests.Uncertainty;

public class MonteCarloPropagation
{
    private static readonly LitterLot Fast = new(0.842, 0.010, 0.05, 0.004, 0.25, 0.004);
    private static readonly LitterLot Slow = new(0.552, 0.008, 0.04, 0.003, 0.25, 0.004);
    private static readonly MeasurementAssumptions Assumed = new() { AshFractionSd = 0.003 };

    private static BurialInputs Burial(
        string key, double fastFinal = 1.05, double slowFinal = 1.95, string lot = "a", string batch = "b") => new(
        key,
        new SharedKeys(lot, lot, batch, batch),
        new BagWeighing(2.25, fastFinal, MassBasis.Gross, 0.12, 0.01, Water.UpTo(0.02), Water.Measured(0.03, 0.006)), Fast,
        new BagWeighing(2.35, slowFinal, MassBasis.Gross, 0.07, 0.01, Water.OfLot(0.05, 0.003), Water.Dried(0.006)), Slow,
        Exposure.Between(new(2024, 4, 1), new(2024, 6, 30), Assumed));

    private static RateAndStabilisation FirstOrder(BurialInputs b) => RateAndStabilisation.Of(
        RemainingFraction.Of(b.FastBag, b.FastLot, Assumed).Value!,
        RemainingFraction.Of(b.SlowBag, b.SlowLot, Assumed).Value!, b.Exposure).Value!;

    [Fact]
    public void First_order_uncertainty_and_covariance_agree_with_the_draws()
    {
        BurialInputs burial = Burial("b1");
        RateAndStabilisation first = FirstOrder(burial);
        BurialDraws drawn = MonteCarlo.Propagate([burial], Assumed, new(400_000, 3))[0].Value!;

        Assert.Equal(0, drawn.ShareUndefined);
        Assert.Equal(1, drawn.RatePerDay.Uncertainty / first.RatePerDay.Uncertainty, 0.05);
        Assert.Equal(1, drawn.StabilisationFactor.Uncertainty / first.StabilisationFactor.Uncertainty, 0.02);
        Assert.Equal(1, drawn.Covariance / first.Covariance, 0.05);
        // near-normal draws: the coverage interval is mean ± 1.96 u
        Assert.Equal(1.96 * drawn.StabilisationFactor.Uncertainty * 2,
            drawn.StabilisationFactor.Upper95!.Value - drawn.StabilisationFactor.Lower95, 0.001);
    }

    [Fact]
    public void The_covariance_equals_numerical_differentiation_of_the_equations()
    {
        // cov(k, S) = Σ (∂k/∂x)(∂S/∂x) u²(x), derivatives here by central differences of the equations written out again
        const double wf = 0.45, ws = 0.82, t = 90, u = 0.004, h = 1e-6;
        static double S(double w, double hf) => 1 - (1 - w) / hf;
        static double K(double w, double v, double hf, double hs) => Math.Log(hs * (1 - w) / hf / (v - 1 + hs * (1 - w) / hf)) / t;
        double dKdW = (K(wf + h, ws, 0.842, 0.552) - K(wf - h, ws, 0.842, 0.552)) / (2 * h);
        double dSdW = (S(wf + h, 0.842) - S(wf - h, 0.842)) / (2 * h);
        double dKdH = (K(wf, ws, 0.842 + h, 0.552) - K(wf, ws, 0.842 - h, 0.552)) / (2 * h);
        double dSdH = (S(wf, 0.842 + h) - S(wf, 0.842 - h)) / (2 * h);

        LitterLot fast = new(0.842, 0.02), slow = new(0.552, 0.03);
        RemainingFraction F(double w, LitterLot lot) => RemainingFraction.Of(
            new BagWeighing(2, 2 * w, MassBasis.Litter, null, u), lot, MeasurementAssumptions.Default).Value!;
        RateAndStabilisation both = RateAndStabilisation.Of(F(wf, fast), F(ws, slow), new Exposure(t, 0)).Value!;

        Assert.Equal(dKdW * dSdW * Math.Pow(F(wf, fast).UncertaintyBag, 2), both.CovarianceBag, 1e-11);
        Assert.Equal(dKdH * dSdH * 0.02 * 0.02, both.CovarianceLot, 1e-9);
        Assert.InRange(both.Correlation, -1, 1);
    }

    [Fact]
    public void Neither_order_nor_company_changes_a_burial()
    {
        MonteCarloOptions options = new(500, 9);
        BurialInputs[] burials = [.. Enumerable.Range(0, 40).Select(i => Burial($"b{i}", 1.0 + 0.002 * i))];
        IReadOnlyList<Computed<BurialDraws>> forward = MonteCarlo.Propagate(burials, Assumed, options);
        Computed<BurialDraws>[] backward = MonteCarlo.Propagate([.. burials.Reverse()], Assumed, options).Reverse().ToArray();

        Assert.Equal(forward, backward);
        Assert.Equal(forward[17], MonteCarlo.Propagate([burials[17]], Assumed, options)[0]);
        Assert.NotEqual(forward[17], MonteCarlo.Propagate([burials[17]], Assumed, options with { Seed = 10 })[0]);
    }

    [Fact]
    public void Burials_of_one_lot_or_batch_move_together_and_of_others_do_not()
    {
        MonteCarloOptions options = new(20_000, 5);
        double[] Rates(BurialInputs b)
        {
            double[] k = new double[options.Draws], s = new double[options.Draws];
            Assert.Null(MonteCarlo.Draw(b, Assumed, options, k, s));
            return k;
        }

        BurialInputs a = Burial("x"), b = Burial("y"), c = Burial("z", lot: "other", batch: "other"), d = Burial("u", batch: "other"),
            e = Burial("v", lot: "other");
        RateAndStabilisation first = FirstOrder(a);
        double lot = Math.Pow(first.RatePerDay.UncertaintyLot / first.RatePerDay.Uncertainty, 2);
        double batch = Math.Pow(first.RatePerDay.UncertaintyBatch / first.RatePerDay.Uncertainty, 2);
        Assert.Equal(lot + batch, Correlation.Pearson(Rates(a), Rates(b)), 0.02);
        Assert.Equal(lot, Correlation.Pearson(Rates(a), Rates(d)), 0.02);
        Assert.Equal(batch, Correlation.Pearson(Rates(a), Rates(e)), 0.02);
        Assert.Equal(0, Correlation.Pearson(Rates(a), Rates(c)), 0.02);
    }

    [Fact]
    public void Near_the_plateau_the_upper_end_of_k_is_missing_not_invented()
    {
        // w_s just above 1 - a_s: many draws have no k
        BurialDraws drawn = MonteCarlo.Propagate([Burial("p", fastFinal: 1.05, slowFinal: 1.48)], Assumed, new())[0].Value!;

        Assert.InRange(drawn.ShareUndefined, 0.01, 0.5);
        Assert.Null(drawn.RatePerDay.Upper95);
        Assert.NotNull(drawn.StabilisationFactor.Upper95);
    }

    [Fact]
    public void A_burial_without_k_says_why() =>
        Assert.Equal(MissingReason.SlowLossAtPlateau,
            MonteCarlo.Propagate([Burial("q", slowFinal: 1.0)], Assumed, new())[0].Reason);
}
