namespace DecayAtlas.Prediction.Tests;

public class UnderstandingTests
{
    private sealed class Function(int width, Func<float[], double> f) : RatePredictor
    {
        public override int FeatureCount => width;

        protected override void PredictRows(ReadOnlySpan<float> features, Span<double> lnRates)
        {
            for (int row = 0; row < lnRates.Length; row++)
                lnRates[row] = f(features.Slice(row * width, width).ToArray());
        }
    }

    /// <summary>Apley and Zhu 2020, section 2.3: for f = g(x0) + h(x1) the effect of x0 is g less its mean, whatever the
    /// correlation.</summary>
    [Fact]
    public void The_effect_of_an_additive_function_is_its_own_term_even_when_covariates_move_together()
    {
        CovariateTable table = Together();
        CovariateEffect effect = AccumulatedLocalEffects.Of("x0", 0, table, new Function(2, x => x[0] * x[0] + 3 * x[1]));
        double mean = Enumerable.Range(0, table.Count).Average(r => Math.Pow(table.FeaturesOf(r)[0], 2));
        Assert.All(effect.Values.Zip(effect.Effects), p => Assert.Equal(p.First * p.First - mean, p.Second, 0.01));
    }

    /// <summary>The same, section 2.4: for f = x0 x1 with x1 close to x0, the effect of x0 is x0²/2 less its mean: the slope at x0 is the
    /// x1 that occurs there.</summary>
    [Fact]
    public void The_effect_of_a_product_uses_the_values_that_occur_together()
    {
        CovariateTable table = Together();
        CovariateEffect effect = AccumulatedLocalEffects.Of("x0", 0, table, new Function(2, x => x[0] * x[1]));
        double mean = Enumerable.Range(0, table.Count).Average(r => Math.Pow(table.FeaturesOf(r)[0], 2) / 2);
        Assert.All(effect.Values.Zip(effect.Effects), p => Assert.Equal(p.First * p.First / 2 - mean, p.Second, 0.03));
    }

    [Fact]
    public void A_covariate_of_few_values_has_an_effect_at_each_of_them()
    {
        List<TrainingRow> rows = Enumerable.Range(0, 60)
            .Select(i => new TrainingRow($"{i:000}", "c", 0, 0, 0, 1, default, default, [i % 3, i])).ToList();
        CovariateEffect effect =
            AccumulatedLocalEffects.Of("x0", 0, CovariateTable.Of(new([new("a", "", ""), new("b", "", "")], rows, "", 0)),
                new Function(2, x => 2 * x[0]));
        Assert.Equal([0, 1, 2], effect.Values);
        Assert.Equal([2, 2], effect.Effects.Zip(effect.Effects.Skip(1), (a, b) => b - a));
    }

    [Fact]
    public void More_sites_lower_the_error_of_a_flexible_model_on_a_curved_truth()
    {
        using RateModel model =
            ModelTrainer.Train(InventedSites.Make(400, InventedSites.CurvedTruth, 0.05),
                new() { Folds = 4, Trees = 60, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 });
        IReadOnlyList<LearningPoint> curve = model.Card.Findings.LearningCurve;
        Assert.Equal([0.25, 0.5, 0.75, 1], curve.Select(p => p.Share));
        Assert.True(curve[0].Rmse > 1.2 * curve[^1].Rmse, string.Join(' ', curve.Select(p => p.Rmse)));
        Assert.True(curve[0].MeanSites < curve[^1].MeanSites);
    }

    private static CovariateTable Together()
    {
        Random random = new(1);
        List<TrainingRow> rows = Enumerable.Range(0, 2000).Select(i =>
        {
            double x = random.NextDouble();
            return new TrainingRow($"{i:0000}", "c", 0, 0, 0, 1, default, default, [x, x + 0.02 * (random.NextDouble() - 0.5)]);
        }).ToList();
        return CovariateTable.Of(new([new("x0", "", ""), new("x1", "", "")], rows, "", 0));
    }
}
