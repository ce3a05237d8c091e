namespace DecayAtlas.Prediction.Tests;

public class PredictionBlockTests
{
    private static readonly TrainingOptions Quick = new() { Folds = 3, Trees = 30, SettingsTried = 1, ImportanceRepeats = 2, Members = 20 };
    private static readonly TrainingSet Set = InventedSites.Make(200, InventedSites.CurvedTruth, 0.1);
    private static readonly Lazy<RateModel> Model = new(() => ModelTrainer.Train(Set, Quick));

    private static PredictionBlock Filled(int capacity, IEnumerable<IReadOnlyList<double>> rows)
    {
        PredictionBlock block = new(6, capacity, withDensity: true);
        int at = 0;
        foreach (IReadOnlyList<double> row in rows)
        {
            for (int c = 0; c < 6; c++)
                block.Covariates[c][at] = (float)row[c];
            at++;
        }
        return block;
    }

    [Fact]
    public void A_rate_is_exp_of_ln_k_and_lies_inside_its_interval()
    {
        PredictionBlock block = Filled(200, Set.Rows.Select(r => r.Covariates));
        Model.Value.Predict(block, 200);
        double[] lnRates = new double[200];
        Model.Value.PredictLnRate([.. Set.Rows.SelectMany(r => r.Covariates)], lnRates);
        for (int r = 0; r < 200; r++)
        {
            Assert.Equal((float)Math.Exp(lnRates[r]), block.Predictions[r]);
            Assert.True(block.Lower[r] < block.Predictions[r] && block.Predictions[r] < block.Upper[r]);
        }
    }

    [Fact]
    public void A_missing_covariate_makes_everything_missing_and_nothing_else()
    {
        double[][] rows = Set.Rows.Take(3).Select(r => r.Covariates.ToArray()).ToArray();
        PredictionBlock whole = Filled(3, rows);
        Model.Value.Predict(whole, 3);
        rows[1][2] = double.NaN;
        PredictionBlock gap = Filled(3, rows);
        Model.Value.Predict(gap, 3);
        foreach ((float[]? with, float[]? without) in new[] { (gap.Predictions, whole.Predictions), (gap.Lower, whole.Lower),
            (gap.Upper, whole.Upper), (gap.Dissimilarity, whole.Dissimilarity) })
        {
            Assert.Equal([without[0], float.NaN, without[2]], with);
        }

        Assert.False(gap.Applicable[1]);
        Assert.Equal(0, gap.LocalDensity[1]);
        Assert.True(whole.Applicable[1]);
    }

    [Fact]
    public void A_k_that_no_number_holds_is_no_prediction_of_zero_or_infinity()
    {
        // a straight line through ln k, asked for what no site ever was: exp leaves single precision on either side
        using RateModel line = new(Model.Value.Card,
            new FormulaPredictor(new CurvesFormula(new double[6], [1, 1, 1, 1, 1, 1], [1, .. new double[11]], 0)), new("model.json", []),
            Model.Value.Limits, Model.Value.Members, []);
        double[] usual = [.. Set.Rows[0].Covariates];
        PredictionBlock block = Filled(3, [[-5000, .. usual.Skip(1)], usual, [5000, .. usual.Skip(1)]]);
        line.Predict(block, 3);
        foreach (float[] values in new[] { block.Predictions, block.Lower, block.Upper, block.Dissimilarity })
            Assert.Equal([true, false, true], values.Take(3).Select(float.IsNaN));
        Assert.False(block.Applicable[0] || block.Applicable[2]);
    }

    [Fact]
    public void Blocks_and_threads_change_no_number_and_neither_does_saving()
    {
        using TemporaryFolder folder = new();
        Model.Value.Save(folder.Path);
        using RateModel again = RateModel.Load(folder.Path);
        Random random = new(5);
        double[][] rows = [.. Enumerable.Range(0, 500)
            .Select(_ => Enumerable.Range(0, 6).Select(c => random.NextDouble() * (c + 1) * 3).ToArray())];
        PredictionBlock one = Filled(500, rows);
        Model.Value.Predict(one, 500);
        Parallel.For(0, 10, part =>
        {
            PredictionBlock block = Filled(64, rows.Skip(part * 50).Take(50));
            again.Predict(block, 50);
            for (int r = 0; r < 50; r++)
            {
                int at = part * 50 + r;
                Assert.Equal(
                    (one.Predictions[at], one.Lower[at], one.Upper[at], one.Dissimilarity[at], one.Applicable[at], one.LocalDensity[at]),
                    (block.Predictions[r], block.Lower[r], block.Upper[r], block.Dissimilarity[r], block.Applicable[r],
                        block.LocalDensity[r]));
            }
        });
        Assert.Contains(true, one.Applicable);
        Assert.Contains(false, one.Applicable);
    }
}
