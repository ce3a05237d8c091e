namespace DecayAtlas.Decomposition.Tests.Curves;

public class PooledCalibration
{
    public static TheoryData<int> Sets => [.. Enumerable.Range(1, 10)];

    private static SeriesDifference[] SetOf(int set) =>
    [
        .. TestTable.Read("Curves", "calibration-data.csv").Rows.Where(r => r["set"] == $"{set}")
            .Select(r => new SeriesDifference(r.Number("d"), r.Number("se"))),
    ];

    [Theory]
    [MemberData(nameof(Sets))]
    public void The_scatter_between_series_is_that_of_metafor_and_the_mean_that_of_R(int set)
    {
        // R 4.2, metafor 3.8-1; script calibration.R beside this file
        TestTable.Row r = TestTable.Read("Curves", "calibration-reference.csv").Rows.Single(x => x["set"] == $"{set}");
        SeriesDifference[] series = SetOf(set);
        PooledDifference pooled = PooledDifference.Of(series).Value!;

        double own = series.Average(s => s.StandardError * s.StandardError);
        Assert.Equal(r.Number("tau2"), pooled.BetweenSd * pooled.BetweenSd, 1e-5 * own);
        Assert.Equal(1, pooled.BetweenSdUpper95!.Value * pooled.BetweenSdUpper95.Value / r.Number("upper"), 1e-5);
        Assert.Equal(r.Number("mean"), pooled.Difference, 1e-9);
        Assert.Equal(r.Number("lower"), pooled.Lower95, 1e-9);
        Assert.Equal(r.Number("top"), pooled.Upper95, 1e-9);
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void The_mixed_model_is_the_random_effects_model_of_metafor(int set)
    {
        double beta = TestTable.Read("Curves", "calibration-reference.csv").Rows.Single(x => x["set"] == $"{set}").Number("beta");
        MixedFit fit = MixedModel.Fit(
            [.. SetOf(set).Select(s => new MixedRecord(s.Difference, null, [], [1]) { Error = new(s.StandardError * s.StandardError) })],
            [], 1).Value!;
        Assert.Equal(1, fit.FixedEffects(0)[0] / beta, 1e-5);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.08, 0.03)]
    public void Intervals_hold_the_difference_that_simulated_series_were_made_with(double difference, double sd)
    {
        // weighings of burials, not the curves fitted: rates and S scatter from bag to bag, which the fit knows nothing of
        const int sets = 75, seriesEach = 9;
        RandomStream random = new(31, $"calibration {sd}");
        int held = 0;
        double sum = 0;
        for (int i = 0; i < sets; i++)
        {
            PooledDifference pooled = PooledDifference
                .Of([.. Enumerable.Range(0, seriesEach).Select(_ => Series()).OfType<SeriesDifference>()])
                .Value!;
            held += pooled.Lower95 <= difference && difference <= pooled.Upper95 ? 1 : 0;
            sum += pooled.Difference - difference;
        }

        // binomial sd 2.5 % at 95 %
        Assert.InRange((double)held / sets, 0.90, 0.995);
        // the curve is bent, so that S of a litter far from its plateau is a little off
        Assert.InRange(sum / sets, -0.012, 0.012);

        SeriesDifference? Series()
        {
            double s = 0.28 + 0.03 * Draw(), rate = Math.Clamp(0.009 * Math.Exp(0.2 * Draw()), 0.006, 0.0135);
            double slow = s + difference + sd * Draw();
            LitterPoint[] points = [.. new[] { 20.0, 40, 62, 90, 118, 150 }.SelectMany(t => Enumerable.Range(0, 3).SelectMany(_ =>
            {
                double k = rate * Math.Exp(0.1 * Draw()), own = 0.012 * Draw();
                return new LitterPoint[]
                {
                    new(LitterRole.Fast, t, 1 - 0.842 * (1 - s - own) * (1 - Math.Exp(-8 * k * t)) + 0.004 * Draw()),
                    new(LitterRole.Slow, t, 1 - 0.552 * (1 - slow - own) * (1 - Math.Exp(-k * t)) + 0.004 * Draw()),
                };
            }))];
            FittedParameter[] p = [.. JointLitters.Fit(points, 0.842, 0.552).Value!.SeparateS.Parameters];
            return p[0].StandardError is { } a && p[1].StandardError is { } b && p[1].Lower95 is not null && p[1].Upper95 is not null
                ? new SeriesDifference(p[1].Value - p[0].Value, Math.Sqrt(a * a + b * b)) : null;
        }

        double Draw() => random.NextNormalPair().First;
    }

    [Fact]
    public void The_factor_on_k_is_that_of_a_burial_worked_by_hand()
    {
        // S 0.25, k 0.01, 90 d: L = 0.75 (1 - exp(-0.9)) = 0.445072755; with a difference of 0.05 k t = ln(0.70/(0.70 - L)) = 1.0101
        TypicalBurial burial = new(0.25, 0.01, 90);
        double lost = 0.75 * (1 - 0.40656965974059911);
        Assert.Equal(1.0101 / 0.9, burial.RateFactor(0.05)!.Value, 1e-4);
        Assert.Equal(Math.Log(0.70 / (0.70 - lost)) / 0.9, burial.RateFactor(0.05)!.Value, 1e-12);
        Assert.Equal(1, burial.RateFactor(0)!.Value, 1e-12);
        Assert.True(burial.RateFactor(-0.05) < 1);
        // it lost 0.445 of 0.75: with a difference of 0.31 there is less to lose than that
        Assert.Null(burial.RateFactor(0.31));
    }

    [Fact]
    public void The_factor_does_not_ask_for_H()
    {
        // the two-bag equations with H 0.842 and 0.552 on masses of the same burial, S of the slow litter higher by 0.05
        LitterLot fast = new(0.842, 0), slow = new(0.552, 0);
        double slowLoss = 0.552 * 0.75 * (1 - Math.Exp(-0.9));
        double k = RateOf(0.842 * 0.75), own = RateOf(0.842 * 0.70);
        Assert.Equal(0.01, k, 1e-12);
        Assert.Equal(own / k, new TypicalBurial(0.25, k, 90).RateFactor(0.05)!.Value, 1e-12);

        double RateOf(double fastLoss) =>
            TwoLitterIndex.RatePerDay(W(1 - fastLoss, fast), W(1 - slowLoss, slow), new Exposure(90, 0)).Value!.Value;
        RemainingFraction W(double w, LitterLot lot) =>
            RemainingFraction.Of(new BagWeighing(1, w, MassBasis.Litter), lot, MeasurementAssumptions.Default).Value!;
    }

    [Fact]
    public void What_can_not_be_pooled_is_said()
    {
        Assert.Contains("There are 2 series", PooledDifference.Of([new(0.1, 0.05), new(0.2, 0.05)]).Statement!.Sentence);
        Assert.Contains("are equal", PooledDifference.Of([new(0.1, 0.05), new(0.1, 0.05), new(0.1, 0.05)]).Statement!.Sentence);
        Assert.Contains("standard error above 0", PooledDifference.Of([new(0.1, 0), new(0.2, 0.05), new(0, 0.1)]).Statement!.Sentence);
        Assert.Contains("not a finite number", PooledDifference.Of([new(double.NaN, 0.1), new(0.2, 0.05)]).Statement!.Sentence);
    }
}
