namespace DecayAtlas.Decomposition.Tests.Uncertainty;

/// <summary>
/// How often the released interval of one burial holds its true k. The truth is made here by its own arithmetic: organic matter, ash and
/// water in grams, weighed by a balance that reads too much and rounds, in bags whose tare is not the lot's, of a lot whose chemistry is
/// not the declared one.
/// </summary>
public class RateIntervals
{
    private const int Burials = 10_000, Repetitions = 10;

    private sealed record Trial(double K, double S, int Days, string Water, bool HasRate, bool Held, bool HeldFirstOrder, bool IsTooMuch);

    private static readonly Lazy<Trial[]> Trials = new(() => [.. Enumerable.Range(0, Burials).AsParallel().AsOrdered()
        .SelectMany(i => Enumerable.Range(0, Repetitions).Select(r => new SimulatedBurial(i).Measured(r)))]);

    [Fact]
    public void Hold_the_true_k_in_94_to_96_per_cent_of_every_tenth_of_k_S_and_exposure_and_of_every_kind_of_water()
    {
        Assert.All(Tenths(), tenth => Assert.InRange(Share(tenth.Trials, t => t.Held), 0.94, 0.96));
        Assert.All(Trials.Value.GroupBy(t => t.Water), kind => Assert.InRange(Share(kind, t => t.Held), 0.94, 0.96));
    }

    [Fact]
    public void Hold_it_where_there_is_a_k_at_least_as_often_while_first_order_falls_to_80_per_cent_in_the_tenth_of_the_fastest()
    {
        double[] held = [.. Tenths().Select(tenth => Share(tenth.Trials.Where(t => t.HasRate), t => t.Held))];
        Assert.All(held, share => Assert.InRange(share, 0.94, 0.97));
        Trial[] fastest = Tenths().First(t => t.Name.StartsWith("k 0.03", StringComparison.Ordinal)).Trials;
        Assert.InRange(Share(fastest.Where(t => t.HasRate), t => t.HeldFirstOrder), 0.70, 0.85);
    }

    [Fact]
    public void Say_a_k_at_least_that_is_too_much_for_less_than_5_per_cent_of_the_burials_of_every_tenth() =>
        Assert.All(Tenths(), tenth => Assert.InRange(Share(tenth.Trials, t => t.IsTooMuch), 0, 0.05));

    private static IEnumerable<(string Name, Trial[] Trials)> Tenths() =>
        new (string Name, Func<Trial, double> Of)[] { ("k", t => t.K), ("S", t => t.S), ("t", t => t.Days) }.SelectMany(quantity =>
            Trials.Value.OrderBy(quantity.Of).Chunk(Trials.Value.Length / 10).Select(tenth =>
            {
                string name = FormattableString.Invariant(
                    $"{quantity.Name} {quantity.Of(tenth[0]):0.0000} to {quantity.Of(tenth[^1]):0.0000}");
                Trial[] given = [.. tenth.Where(t => t.HasRate)];
                string row = $"{name}: {Share(tenth, t => t.Held):P1}; with a k {Share(given, t => t.Held):P1}, first order "
                    + $"{Share(given, t => t.HeldFirstOrder):P1}; no k {Share(tenth, t => !t.HasRate):P1}, at least too much "
                    + $"{Share(tenth, t => t.IsTooMuch):P1}";
                TestContext.Current.TestOutputHelper!.WriteLine(row);
                return (name, tenth);
            }));

    private static double Share(IEnumerable<Trial> trials, Func<Trial, bool> what) => trials.Average(t => what(t) ? 1.0 : 0);

    // nothing uncertain but the readings and H, so that the equation of the ends is a quadratic
    private static readonly MeasurementAssumptions Plain = new() { BalanceOffsetSdGrams = 0, DateHalfWidthDays = 0 };

    private static RateInterval? Of(double fastFinal, double slowFinal, double resolution = 0.02) => RateInterval.Of(
        RemainingFraction.Of(new(2, fastFinal, MassBasis.Litter, null, resolution), new(0.842, 0.02), Plain).Value!,
        RemainingFraction.Of(new(2, slowFinal, MassBasis.Litter, null, resolution), new(0.552, 0.03), Plain).Value!, new Exposure(90, 0));

    [Fact]
    public void Have_ends_that_solve_the_quadratic_of_Fieller()
    {
        // Fieller 1954: E = A/B with A = H_f L_s, B = H_s L_f independent but for what H adds: (A - B E)² = z² (v_0 + v_2 E²)
        const double wf = 0.7 / 2, ws = 1.6 / 2, z = 1.959963985;
        double uf = 0.02 / Math.Sqrt(12) / 2 * Math.Sqrt(1 + wf * wf), us = 0.02 / Math.Sqrt(12) / 2 * Math.Sqrt(1 + ws * ws);
        double a = 0.842 * (1 - ws), b = 0.552 * (1 - wf);
        double v0 = Math.Pow(0.842 * us, 2) + Math.Pow((1 - ws) * 0.02, 2), v2 = Math.Pow(0.552 * uf, 2) + Math.Pow((1 - wf) * 0.03, 2);
        double square = b * b - z * z * v2, root = Math.Sqrt(a * a * b * b - square * (a * a - z * z * v0));
        RateInterval interval = Of(0.7, 1.6)!;

        Assert.Equal(-Math.Log(1 - (a * b - root) / square) / 90, interval.Lower95PerDay!.Value, 1e-9);
        Assert.Equal(-Math.Log(1 - (a * b + root) / square) / 90, interval.Upper95PerDay!.Value, 1e-9);
        Assert.Null(interval.AtLeastPerDay);
    }

    [Fact]
    public void Leave_open_what_the_weighings_do_not_set()
    {
        // the slow litter lost 5 mg of 2 g, and 20 mg are one step of the balance
        RateInterval nothingLost = Of(0.7, 1.995)!;
        Assert.Null(nothingLost.Lower95PerDay);
        Assert.InRange(nothingLost.Upper95PerDay!.Value, 0.0001, 0.001);

        // a_s = 0.552 · 0.65/0.842 = 0.426: a loss of 0.40 is below it, one of 0.44 above, and 0.9 is beyond any error
        RateInterval near = Of(0.7, 1.2)!, past = Of(0.7, 1.12)!;
        Assert.True(near.Lower95PerDay > 0.01);
        Assert.Null(near.Upper95PerDay);
        Assert.Null(near.AtLeastPerDay);
        Assert.Null(past.Upper95PerDay);
        Assert.True(past.AtLeastPerDay > past.Lower95PerDay);
        Assert.Equal(new RateInterval(null, null, null), Of(0.7, 0.2));

        // no loss of the fast litter: k is undefined, and so is what it can be
        Assert.Null(Of(2.0, 1.6));
    }

    [Fact]
    public void Have_the_ends_of_drawing_distributions()
    {
        // JCGM 101:2008 by the product's own draws: between the two lie only products of errors and the noise of 40 000 draws
        MeasurementAssumptions assumed = MeasurementAssumptions.Default;
        LitterLot fast = new(0.842, 0.010, 0.05, 0.004, 0.25, 0.01), slow = new(0.552, 0.015, 0.04, 0.003, 0.25, 0.01);
        Water[] waters = [Water.Dried(0.005), Water.UpTo(0.1), Water.Measured(0.05, 0.01), Water.OfLot(0.06, 0.004)];
        BurialInputs[] burials = [.. Enumerable.Range(0, 16).Select(i => new BurialInputs(
            $"{i}", new("f", "s", "b", "b"),
            new(2.25, 0.85 + 0.02 * i, MassBasis.Gross, null, 0.01, waters[i % 4], waters[i / 4]), fast,
            new(2.25, 2.0 - 0.03 * i, MassBasis.Gross, null, 0.01, waters[i % 4], waters[i / 4]), slow,
            Exposure.Between(new(2024, 4, 1), new(2024, 6, 30), assumed)))];
        foreach ((BurialInputs burial, Computed<BurialDraws> drawn) in burials.Zip(MonteCarlo.Propagate(burials, assumed, new(40_000, 3))))
        {
            RateInterval interval = RateInterval.Of(
                RemainingFraction.Of(burial.FastBag, fast, FractionBasis.Dry, assumed).Value!,
                RemainingFraction.Of(burial.SlowBag, slow, FractionBasis.Dry, assumed).Value!, burial.Exposure)!;
            DrawnQuantity k = drawn.Value!.RatePerDay;
            if (k.Lower95 > 0)
                Assert.Equal(0, Math.Log(interval.Lower95PerDay!.Value / k.Lower95), 0.06);
            if (k.Upper95 is { } upper)
                Assert.Equal(0, Math.Log(interval.Upper95PerDay!.Value / upper), 0.06);
            Assert.Equal(k.Upper95 is null, interval.Upper95PerDay is null);
        }
    }

    private sealed class SimulatedBurial
    {
        private readonly int _number, _days;
        private readonly double _k, _s, _hFast, _hSlow, _massFast, _massSlow, _resolution, _sdFast, _sdSlow, _tareSd;
        private readonly bool _isGross, _hasAsh, _isDryH;
        private readonly int _initial, _final;

        public SimulatedBurial(int number)
        {
            Random random = new(1000 + number);
            _number = number;
            _k = 0.001 * Math.Pow(50, random.NextDouble());
            _s = 0.6 * random.NextDouble();
            _days = random.Next(40, 131);
            _hFast = 0.78 + 0.1 * random.NextDouble();
            _hSlow = 0.45 + 0.15 * random.NextDouble();
            _massFast = 1 + 2 * random.NextDouble();
            _massSlow = 1 + 2 * random.NextDouble();
            _sdFast = 0.005 + 0.020 * random.NextDouble();
            _sdSlow = 0.005 + 0.045 * random.NextDouble();
            _tareSd = 0.005 + 0.02 * random.NextDouble();
            _resolution = new[] { 0.001, 0.01, 0.05 }[random.Next(3)];
            _isGross = random.Next(2) == 0;
            _hasAsh = random.Next(2) == 0;
            _isDryH = random.Next(2) == 0;
            _initial = random.Next(4);
            _final = random.Next(3);
        }

        public Trial Measured(int repetition)
        {
            Random random = new(unchecked(_number * 7919 + repetition));
            double offset = 0.005 * Normal(random);                                         // of the batch's balance
            double days = _days + random.NextDouble() - random.NextDouble();                // the hours of two days
            (BagWeighing fastBag, LitterLot fastLot) = Bag(random, offset, _hFast, _sdFast, _massFast, 1 - _hFast * (1 - _s));
            double a = _hSlow * (1 - _s);
            (BagWeighing slowBag, LitterLot slowLot) = Bag(random, offset, _hSlow, _sdSlow, _massSlow, 1 - a + a * Math.Exp(-_k * days));

            FractionBasis basis = RemainingFraction.BasisOf((fastBag, fastLot), (slowBag, slowLot));
            RemainingFraction fast = RemainingFraction.Of(fastBag, fastLot, basis, MeasurementAssumptions.Default).Value!;
            RemainingFraction slow = RemainingFraction.Of(slowBag, slowLot, basis, MeasurementAssumptions.Default).Value!;
            Exposure exposure = new(_days, 0.5 * Math.Sqrt(2.0 / 3));
            Estimate? k = TwoLitterIndex.RatePerDay(fast, slow, exposure).Value;
            RateInterval? interval = RateInterval.Of(fast, slow, exposure);
            return new Trial(
                _k, _s, _days, $"water {_initial} {_final}", k is not null,
                // where no k at all is left, none is held
                interval is not null && (interval.Lower95PerDay ?? (k is null ? double.MaxValue : 0)) <= _k
                    && _k <= (interval.Upper95PerDay ?? double.MaxValue),
                k is not null && Math.Abs(k.Value - _k) <= 1.96 * k.Uncertainty,
                interval?.AtLeastPerDay > _k);
        }

        // h: of the organic matter; left: the share of it that is still there
        private (BagWeighing, LitterLot) Bag(Random random, double offset, double h, double hSd, double organic, double left)
        {
            double ash = 0.03 + 0.04 * random.NextDouble(), dry = organic / (1 - ash), soil = _hasAsh ? 0.1 * random.NextDouble() : 0;
            double dryLeft = organic * left + organic * ash / (1 - ash) + soil, ashLeft = 1 - organic * left / dryLeft;
            // without ash the equation is of the dry mass, ash in the share that stays
            double hDry = h * (1 - ash);

            double suppliedWater = 0.04 + 0.05 * random.NextDouble();
            (double water, Water told) = _initial switch
            {
                0 => Told(0.10 * random.NextDouble(), w => Water.Measured(w, 0.006), 0.006),
                1 => (0.005 * Flat(random), Water.Dried(0.005)),
                2 => Told(suppliedWater, w => Water.OfLot(w, 0.004), 0.004),
                _ => (0.10 * random.NextDouble(), Water.UpTo(0.10)),
            };
            (double waterLeft, Water toldLeft) = _final switch
            {
                0 => Told(0.10 * random.NextDouble(), w => Water.Measured(w, 0.006), 0.006),
                1 => (0.005 * Flat(random), Water.Dried(0.005)),
                _ => (0.10 * random.NextDouble(), Water.UpTo(0.10)),
            };

            double meanTare = 0.3 + 0.005 * Flat(random), tare = _isGross ? meanTare + _tareSd * Normal(random) : 0;
            BagWeighing bag = new(
                Read(dry / (1 - water) + tare + offset), Read(dryLeft / (1 - waterLeft) + tare + offset),
                _isGross ? MassBasis.Gross : MassBasis.Litter, _hasAsh ? ashLeft + 0.005 * Normal(random) : null, _resolution, told,
                toldLeft);
            bool isDry = !_hasAsh || _isDryH;
            LitterLot lot = new(
                (isDry ? hDry : h) + hSd * Normal(random), hSd, _hasAsh ? ash + 0.004 * Normal(random) : null, 0.004, 0.3, _tareSd,
                isDry ? FractionBasis.Dry : FractionBasis.AshFree);
            return (bag, lot);

            (double, Water) Told(double truth, Func<double, Water> told, double sd) => (truth, told(truth + sd * Normal(random)));
        }

        private double Read(double grams) => Math.Round(grams / _resolution) * _resolution;

        private static double Normal(Random random) =>
            Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

        // of mean 0 and standard deviation 1
        private static double Flat(Random random) => Math.Sqrt(12) * (random.NextDouble() - 0.5);
    }
}
