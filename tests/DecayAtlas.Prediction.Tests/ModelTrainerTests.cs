using Microsoft.ML;
using Microsoft.ML.Data;

namespace DecayAtlas.Prediction.Tests;

public class ModelTrainerTests
{
    private static readonly TrainingOptions Quick = new(Folds: 3, Trees: 40, ImportanceRepeats: 3);

    [Fact]
    public void A_linear_truth_is_recovered_by_the_linear_model()
    {
        var set = InventedSites.Make(300, InventedSites.LinearTruth, 0.05);
        using var model = ModelTrainer.Train(set, Quick);

        Assert.Equal("linear", model.Card.Winner);
        Assert.True(model.Card.BeatsBaseline);
        // The noise put in has a standard deviation of 0.05: no held-out RMSE can be much below, and a right model is near it.
        Assert.InRange(model.Card.WinnerScore().Blocked.Pooled.Rmse, 0.04, 0.06);
        Assert.Equal(["temperature", "moisture"], model.Card.Importance.Take(2).Select(i => i.Covariate));

        // Slope by differences of predictions against the truth 0.4, −0.15, 0.05, 0, 0, 0.
        double[] middle = [1, 2, 3, 4, 5, 6];
        double[] slopes = [0.4, -0.15, 0.05, 0, 0, 0];
        for (int c = 0; c < 6; c++)
        {
            var moved = middle.ToArray();
            moved[c] += 1;
            var answer = new double[2];
            model.PredictLnRate([.. middle, .. moved], answer);
            Assert.Equal(slopes[c], answer[1] - answer[0], 0.012);
            Assert.Equal(InventedSites.LinearTruth(middle), answer[0], 0.02);
        }
    }

    [Fact]
    public void A_curved_truth_is_won_by_trees()
    {
        using var model = ModelTrainer.Train(InventedSites.Make(400, InventedSites.CurvedTruth, 0.1), Quick with { Trees = 100 });
        Assert.Contains(model.Card.Winner, new[] { "forest", "boosted-trees" });
        Assert.True(model.Card.WinnerScore().Blocked.Pooled.R2 > 0.8, $"R2 {model.Card.WinnerScore().Blocked.Pooled.R2}");
        Assert.Equal(["moisture", "temperature"], model.Card.Importance.Take(2).Select(i => i.Covariate).Order());
        Assert.All(model.Card.Importance.Skip(2), i => Assert.True(Math.Abs(i.RmseIncrease) < 0.05));
    }

    [Fact]
    public void Shuffled_rates_do_not_beat_the_mean_by_anything_worth_having()
    {
        var set = InventedSites.Make(300, _ => -4, 0.5);
        using var model = ModelTrainer.Train(set, Quick);
        Assert.True(model.Card.WinnerScore().Blocked.Pooled.R2 < 0.05);
        Assert.Equal(0, model.Card.BaselineScore().Blocked.Pooled.R2, 0.05);
    }

    [Fact]
    public void Neighbouring_sites_make_random_folds_look_better_than_blocked_ones()
    {
        // The rate depends on a hidden patchwork of 2 degree cells; a covariate that betrays the cell lets a model recall it.
        var set = InventedSites.Make(400, InventedSites.LinearTruth, 0.05);
        var rows = set.Rows.Select(r =>
        {
            int cell = (int)Math.Floor(r.LatitudeDegrees / 2) * 31 + (int)Math.Floor(r.LongitudeDegrees / 2);
            var x = r.Covariates.ToArray();
            (x[4], x[5]) = (r.LatitudeDegrees, r.LongitudeDegrees);
            return r with { Covariates = x, LnRatePerDay = -4 + new Random(cell).NextDouble() };
        }).ToList();
        using var model = ModelTrainer.Train(set with { Rows = rows }, Quick with { BlockDegrees = 2 });
        var forest = model.Card.Scores.Single(s => s.Name == "forest");
        Assert.True(forest.Random.Pooled.R2 > forest.Blocked.Pooled.R2 + 0.3, $"{forest.Random.Pooled.R2} {forest.Blocked.Pooled.R2}");
    }

    [Fact]
    public void Row_order_and_the_unit_of_weights_change_nothing()
    {
        var set = InventedSites.Make(200, InventedSites.CurvedTruth, 0.1);
        var shuffled = set.Rows.ToArray();
        new Random(3).Shuffle(shuffled);
        using var one = ModelTrainer.Train(set, Quick);
        using var two = ModelTrainer.Train(set with { Rows = shuffled }, Quick);
        Assert.Equal(one.Card.ModelId, two.Card.ModelId);
        Assert.Equal(one.Archive, two.Archive);

        using var scaled = ModelTrainer.Train(set with { Rows = [.. set.Rows.Select(r => r with { Weight = r.Weight * 1024 })] }, Quick);
        Assert.Equal(one.Card.WinnerScore().Blocked.Pooled, scaled.Card.WinnerScore().Blocked.Pooled);
        Assert.NotEqual(one.Card.ModelId, scaled.Card.ModelId);
    }

    [Fact]
    public void Heavier_rows_pull_the_prediction()
    {
        // Half the rows say −3, half say −5, wherever they are; unweighted the mean is −4, with the
        // weight on the first it must move towards −3 (trees keep some leaves that hold only light rows).
        var set = InventedSites.Make(200, _ => 0, 0);
        var rows = set.Rows.Select((r, i) => r with { LnRatePerDay = (i % 2 == 0 ? -3 : -5) + 1e-3 * r.Covariates[0], Weight = i % 2 == 0 ? 1000 : 1 }).ToList();
        foreach (var candidate in Candidate.All)
        {
            var table = CovariateTable.Of(set with { Rows = rows });
            double mean = candidate.Train(new MLContext(1), table, Quick).Predict(table).Average();
            Assert.True(mean is > -3.5 and < -2.9, $"{candidate.Name}: {mean}");
        }
    }

    [Fact]
    public void Direct_evaluation_equals_ML_NET_s_own()
    {
        var table = CovariateTable.Of(InventedSites.Make(300, InventedSites.CurvedTruth, 0.1));
        foreach (var candidate in Candidate.All)
        {
            var ml = new MLContext(1);
            var trained = candidate.Train(ml, table, Quick);
            var theirs = trained.Transformer.Transform(MlData.View(ml, table)).GetColumn<float>("Score").ToArray();
            var ours = trained.Predict(table).Select(v => (float)v).ToArray();
            if (candidate.Name == "linear")
                Assert.All(theirs.Zip(ours), p => Assert.Equal(p.First, p.Second, 2e-6f)); // ML.NET sums in single precision
            else
                Assert.Equal(theirs, ours);
        }
    }

    [Fact]
    public void What_cannot_be_trained_on_is_one_clear_sentence()
    {
        var set = InventedSites.Make(60, InventedSites.LinearTruth, 0.1);
        TrainingSet With(Func<TrainingRow, TrainingRow> change) => set with { Rows = [.. set.Rows.Select(change)] };
        (TrainingSet Set, TrainingOptions Options, string Says)[] cases =
        [
            (set with { Rows = [] }, Quick, "no accepted site"),
            (set with { Rows = [.. set.Rows.Take(12)] }, Quick, "12 rows to train on (3 left out for a missing covariate), expected at least 30"),
            (set with { Covariates = [] }, Quick, "no covariate"),
            (set, Quick with { BlockDegrees = 60 }, "spatial blocks"),
            (set, Quick with { Folds = 1 }, "folds is 1, expected at least 2"),
            (With(r => r with { Covariates = [5, .. r.Covariates.Skip(1)] }), Quick, "'temperature' is 5 at every training site"),
            (With(r => r with { Covariates = [double.NaN, .. r.Covariates.Skip(1)] }), Quick, "expected a finite number"),
            (With(r => r with { Covariates = [1] }), Quick, "has 1 covariate values, expected 6"),
            (With(r => r with { Weight = 0 }), Quick, "weight 0"),
            (With(r => r with { LnRatePerDay = double.NegativeInfinity }), Quick, "ln k"),
            (With(r => r with { LnRatePerDay = -4 }), Quick, "same decay rate"),
            (With(r => r with { LatitudeDegrees = 99 }), Quick, "latitude 99"),
            (With(r => r with { SiteKey = "only" }), Quick, "expected at least 3"),
        ];
        foreach (var (bad, options, says) in cases)
        {
            var e = Assert.Throws<PredictionException>(() => ModelTrainer.Train(bad, options));
            Assert.Contains(says, e.Message, StringComparison.Ordinal);
            Assert.EndsWith(".", e.Message, StringComparison.Ordinal);
        }
    }
}
