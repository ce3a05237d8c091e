using Microsoft.ML;
using Microsoft.ML.Data;

namespace DecayAtlas.Prediction.Tests;

public class ModelTrainerTests
{
    private static readonly TrainingOptions Quick = new() { Folds = 3, Trees = 40, SettingsTried = 1, ImportanceRepeats = 3, Members = 20 };

    [Fact]
    public void A_linear_truth_is_recovered_by_a_smooth_model()
    {
        TrainingSet set = InventedSites.Make(300, InventedSites.LinearTruth, 0.05);
        using RateModel model = ModelTrainer.Train(set, Quick);

        Assert.Contains(model.Card.Winner, new[] { "linear", "curved" });
        Assert.Equal(Support.Learned, model.Card.Support);
        // The noise put in has a standard deviation of 0.05: no held-out RMSE can be much below, and a right model is near it.
        Assert.InRange(model.Card.WinnerScore().Blocked.Pooled.Rmse, 0.04, 0.06);
        Assert.Equal(["temperature", "moisture"], model.Card.Findings.Importance.Take(2).Select(i => i.Covariate));

        // Slope by differences of predictions against the truth 0.4, −0.15, 0.05, 0, 0, 0.
        double[] middle = [1, 2, 3, 4, 5, 6];
        double[] slopes = [0.4, -0.15, 0.05, 0, 0, 0];
        for (int c = 0; c < 6; c++)
        {
            double[] moved = middle.ToArray();
            moved[c] += 1;
            double[] answer = new double[2];
            model.PredictLnRate([.. middle, .. moved], answer);
            Assert.Equal(slopes[c], answer[1] - answer[0], 0.02);
            Assert.Equal(InventedSites.LinearTruth(middle), answer[0], 0.02);
        }
    }

    [Fact]
    public void A_curved_truth_is_won_by_trees()
    {
        using RateModel model = ModelTrainer.Train(InventedSites.Make(400, InventedSites.CurvedTruth, 0.1), Quick with { Trees = 100 });
        Assert.Contains(model.Card.Winner, new[] { "forest", "boosted-trees", "lightgbm" });
        Assert.True(model.Card.WinnerScore().Blocked.Pooled.R2 > 0.8, $"R2 {model.Card.WinnerScore().Blocked.Pooled.R2}");
        Assert.Equal(["moisture", "temperature"], model.Card.Findings.Importance.Take(2).Select(i => i.Covariate).Order());
        Assert.All(model.Card.Findings.Importance.Skip(2), i => Assert.True(Math.Abs(i.RmseIncrease) < 0.05));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void With_shuffled_rates_the_card_says_that_no_model_is_supported(int seed)
    {
        TrainingSet set = InventedSites.Make(300, InventedSites.CurvedTruth, 0.1);
        double[] rates = [.. set.Rows.Select(r => r.Target)];
        new Random(seed).Shuffle(rates);
        using RateModel model = ModelTrainer.Train(set with { Rows = [.. set.Rows.Select((r, i) => r with { Target = rates[i] })] }, Quick);
        Assert.Equal(Support.None, model.Card.Support);
        Assert.Equal(MeanCandidate.StableName, model.Card.Winner);
        Assert.StartsWith("No model is supported", model.Card.Verdict, StringComparison.Ordinal);
        Assert.Contains("**No model is supported", ModelCardMarkdown.Of(model.Card), StringComparison.Ordinal);
        // What is given is the mean, the same everywhere.
        PredictionBlock block = new(6, 2);
        for (int c = 0; c < 6; c++)
            (block.Covariates[c][0], block.Covariates[c][1]) = (0.1f, 1.5f);
        model.Predict(block, 2);
        Assert.Equal(block.Predictions[0], block.Predictions[1]);
        Assert.Equal(0, model.Card.MeanScore().Blocked.Pooled.R2, 0.05);
    }

    [Fact]
    public void Where_the_published_response_is_the_truth_no_learned_model_is_supported_and_the_response_is_recovered()
    {
        // ln k10 = -4.4, E0 = 308.56 K, half saturation 0.3: what was put in must come out.
        CovariateInfo[] covariates = [new("warmth", "degC", "Temperature"), new("water", "1", "Soil moisture"),
            new("noise", "1", "Unrelated")];
        TrainingSet set = InventedSites.Make(400, _ => 0, 0.08, covariates: 3);
        Random random = new(4);
        set = set with
        {
            Covariates = covariates,
            Rows = [.. set.Rows.Select(r =>
            {
                double t = 25 * random.NextDouble(), m = 0.05 + 0.6 * random.NextDouble();
                double truth = -4.4 + 308.56 * (1 / 56.02 - 1 / (t + 46.02)) + Math.Log(m / (m + 0.3));
                return r with { Covariates = [t, m, random.NextDouble()], Target = r.Target + truth };
            })],
        };
        TrainingOptions options = Quick with { TemperatureCovariate = "warmth", MoistureCovariate = "water" };
        using RateModel model = ModelTrainer.Train(set, options);
        Assert.Equal(Support.Baseline, model.Card.Support);
        Assert.Equal("warmth-moisture", model.Card.Winner);
        Assert.StartsWith("No learned model is supported", model.Card.Verdict, StringComparison.Ordinal);
        double[] lnRate = new double[2];
        model.PredictLnRate([20, 0.3, 0, 10, 0.1, 0], lnRate);
        Assert.Equal(-4.4 + 308.56 * (1 / 56.02 - 1 / 66.02) + Math.Log(0.5), lnRate[0], 0.04);
        Assert.Equal(-4.4 + Math.Log(0.25), lnRate[1], 0.04);

        foreach ((TrainingOptions? bad, string? says) in new[]
        {
            (options with { TemperatureCovariate = "heat" }, "'heat' is not among the model's covariates"),
            (options with { TemperatureCovariate = "water" }, "has the unit '1', expected degC"),
            (options with { TemperatureCovariate = null }, "moisture but no temperature"),
        })
        {
            Assert.Contains(says, Assert.Throws<PredictionException>(() => ModelTrainer.Train(set, bad)).Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void What_is_held_out_has_no_say_in_the_setting_that_predicts_it()
    {
        CovariateTable table = CovariateTable.Of(InventedSites.Make(160, InventedSites.CurvedTruth, 0.1));
        CrossValidationFolds folds = CrossValidationFolds.Blocked(table.Rows, 4, 1.0);
        CurvedCandidate candidate = new();
        HeldOutPredictions honest = CrossValidation.RunNested(candidate, table, folds, Quick);
        // Spoil what fold 0 holds out: its setting and its predictions must stay as they were, since neither may have looked.
        HashSet<int> held = folds.HeldOut(0).ToHashSet();
        CovariateTable spoilt = CovariateTable.Of(InventedSites.Make(160, InventedSites.CurvedTruth, 0.1) with
        {
            Rows = [.. table.Rows.Select((r, i) => held.Contains(i) ? r with { Target = r.Target * 3 } : r)],
        });
        HeldOutPredictions again = CrossValidation.RunNested(candidate, spoilt, folds, Quick);
        Assert.Equal(honest.SettingOfFold[0], again.SettingOfFold[0]);
        Assert.Equal(folds.HeldOut(0).Select(r => honest.Values[r]), folds.HeldOut(0).Select(r => again.Values[r]));
        Assert.NotEqual(honest.Values, again.Values);
    }

    [Fact]
    public void One_campaign_one_ecosystem_and_equal_weights_are_said_in_the_card()
    {
        TrainingSet set = InventedSites.Make(90, InventedSites.LinearTruth, 0.1);
        using RateModel model =
            ModelTrainer.Train(
                set with
                {
                    Rows = [.. set.Rows
                        .Select((r, i) => r with { Campaign = "only", SiteKey = $"{i}", Weight = 2, Ecosystem = "forest" })]
                }, Quick);
        Assert.Contains(model.Card.Notes, n => n.StartsWith("No campaign could be held out", StringComparison.Ordinal));
        Assert.Contains(model.Card.Notes, n => n.StartsWith("No ecosystem could be held out", StringComparison.Ordinal));
        Assert.Contains(model.Card.Notes, n => n.StartsWith("All rows weigh the same", StringComparison.Ordinal));
        Assert.Contains(model.Card.Notes, n => n.Contains("the training mean is the only baseline", StringComparison.Ordinal));
        Assert.Null(model.Card.WinnerScore().Campaign);
        Assert.Null(model.Card.WinnerScore().Ecosystem);
    }

    [Fact]
    public void Stabilisation_is_predicted_as_it_is()
    {
        TrainingSet set = InventedSites.Make(120, x => 0.3 - 0.05 * x[0], 0.01) with { Target = PredictionTarget.Stabilisation };
        using RateModel model = ModelTrainer.Train(set, Quick);
        Assert.Equal("1", model.Card.TargetUnit);
        PredictionBlock block = new(6, 1);
        for (int c = 0; c < 6; c++)
            block.Covariates[c][0] = c + 1;
        model.Predict(block, 1);
        Assert.Equal(0.25, block.Predictions[0], 0.02);
        Assert.InRange(block.Upper[0] - block.Lower[0], 0.02, 0.08);
        Assert.Contains("stabilisation factor S", ModelCardMarkdown.Of(model.Card), StringComparison.Ordinal);
    }

    [Fact]
    public void A_returning_site_is_never_trained_on_when_its_other_campaign_is_held_out()
    {
        TrainingSet set = InventedSites.Make(120, InventedSites.LinearTruth, 0.1);
        CovariateTable table =
            CovariateTable.Of(set with { Rows = [.. set.Rows.Select((r, i) => r with { Campaign = $"campaign {i % 5}" })] });
        foreach (CrossValidationFolds folds in new[] { ValidationFolds.Of(table, Quick).Blocked, ValidationFolds.Of(table, Quick).Random,
            CrossValidationFolds.OneOut(table.Rows, r => r.Campaign, 10)! })
        {
            for (int f = 0; f < folds.Count; f++)
            {
                Assert.Empty(folds.HeldOut(f).Select(r => table.Rows[r].SiteKey)
                    .Intersect(folds.Training(f).Select(r => table.Rows[r].SiteKey)));
            }
        }
    }

    [Fact]
    public void Neighbouring_sites_make_random_folds_look_better_than_blocked_ones()
    {
        // The rate depends on a hidden patchwork of 2 degree cells; a covariate that betrays the cell lets a model recall it.
        TrainingSet set = InventedSites.Make(400, InventedSites.LinearTruth, 0.05);
        List<TrainingRow> rows = set.Rows.Select(r =>
        {
            int cell = (int)Math.Floor(r.LatitudeDegrees / 2) * 31 + (int)Math.Floor(r.LongitudeDegrees / 2);
            double[] x = r.Covariates.ToArray();
            (x[4], x[5]) = (r.LatitudeDegrees, r.LongitudeDegrees);
            return r with { Covariates = x, Target = -4 + new Random(cell).NextDouble() };
        }).ToList();
        using RateModel model = ModelTrainer.Train(set with { Rows = rows }, Quick with { BlockDegrees = 2 });
        CandidateScore forest = model.Card.Scores.Single(s => s.Name == "forest");
        Assert.True(forest.Random.Pooled.R2 > forest.Blocked.Pooled.R2 + 0.3, $"{forest.Random.Pooled.R2} {forest.Blocked.Pooled.R2}");
    }

    [Fact]
    public void Row_order_and_the_unit_of_weights_change_nothing()
    {
        TrainingSet set = InventedSites.Make(200, InventedSites.CurvedTruth, 0.1);
        TrainingRow[] shuffled = set.Rows.ToArray();
        new Random(3).Shuffle(shuffled);
        using RateModel one = ModelTrainer.Train(set, Quick);
        using RateModel two = ModelTrainer.Train(set with { Rows = shuffled }, Quick);
        Assert.Equal(one.Card.ModelId, two.Card.ModelId);
        Assert.Equal(one.Archive, two.Archive);

        using RateModel scaled =
            ModelTrainer.Train(set with { Rows = [.. set.Rows.Select(r => r with { Weight = r.Weight * 1024 })] }, Quick);
        Assert.Equal(one.Card.WinnerScore().Blocked.Pooled, scaled.Card.WinnerScore().Blocked.Pooled);
        Assert.NotEqual(one.Card.ModelId, scaled.Card.ModelId);
    }

    [Fact]
    public void Heavier_rows_pull_the_prediction()
    {
        // Half the rows say −3, half say −5, wherever they are; unweighted the mean is −4, with the
        // weight on the first it must move towards −3 (trees keep some leaves that hold only light rows).
        TrainingSet set = InventedSites.Make(200, _ => 0, 0);
        List<TrainingRow> rows =
            set.Rows.Select((r, i) => r with { Target = (i % 2 == 0 ? -3 : -5) + 1e-3 * r.Covariates[0], Weight = i % 2 == 0 ? 1000 : 1 })
                .ToList();
        foreach (Candidate candidate in CandidateSet.Of(set, Quick).Learned)
        {
            CovariateTable table = CovariateTable.Of(set with { Rows = rows });
            double[] predicted = new double[table.Count];
            // Leaves of two rows would hold light rows alone.
            candidate.Fit(table, candidate.Name == "forest" ? new(16, 5) : candidate.Settings(Quick)[0], Quick).Predictor
                .Predict(table.Features, predicted);
            double mean = predicted.Average();
            Assert.True(mean is > -3.5 and < -2.9, $"{candidate.Name}: {mean}");
        }
    }

    [Fact]
    public void Direct_evaluation_equals_ML_NET_s_own()
    {
        CovariateTable table = CovariateTable.Of(InventedSites.Make(300, InventedSites.CurvedTruth, 0.1));
        foreach (MlCandidate candidate in CandidateSet.Of(InventedSites.Make(50, InventedSites.CurvedTruth, 0.1), Quick).Learned
            .OfType<MlCandidate>())
        {
            MLContext ml = new(1);
            ITransformer trained = candidate.Train(ml, MlData.View(ml, table), candidate.Settings(Quick)[0], Quick);
            float[] theirs = trained.Transform(MlData.View(ml, table)).GetColumn<float>("Score").ToArray();
            double[] predicted = new double[table.Count];
            RatePredictor.Of(trained).Predict(table.Features, predicted);
            float[] ours = predicted.Select(v => (float)v).ToArray();
            Assert.Equal(theirs, ours);

            // runs of like rows, as on a map, go down the trees together; each still reaches its own leaf
            float[] runs = [.. Enumerable.Range(0, 2000).SelectMany(i => table.FeaturesOf(i / 7 % table.Count).ToArray())];
            double[] together = new double[2000];
            RatePredictor.Of(trained).Predict(runs, together);
            Assert.Equal(Enumerable.Range(0, 2000).Select(i => predicted[i / 7 % table.Count]), together);
        }
    }

    [Fact]
    public void What_cannot_be_trained_on_is_one_clear_sentence()
    {
        TrainingSet set = InventedSites.Make(60, InventedSites.LinearTruth, 0.1);
        TrainingSet With(Func<TrainingRow, TrainingRow> change) => set with { Rows = [.. set.Rows.Select(change)] };
        (TrainingSet Set, TrainingOptions Options, string Says)[] cases =
        [
            (set with { Rows = [] }, Quick, "no accepted site"),
            (set with {
                Rows = [.. set.Rows.Take(12)] }, Quick, "12 rows to train on (3 left out for a missing covariate), expected at least 30"),
            (set with { Covariates = [] }, Quick, "no covariate"),
            (set, Quick with { BlockDegrees = 60 }, "spatial blocks"),
            (set, Quick with { Folds = 1 }, "folds is 1, expected a whole number, 2 or more"),
            (With(r => r with { Covariates = [5, .. r.Covariates.Skip(1)] }), Quick, "'temperature' is 5 at every training site"),
            (With(r => r with { Covariates = [double.NaN, .. r.Covariates.Skip(1)] }), Quick, "expected a finite number"),
            (With(r => r with { Covariates = [1] }), Quick, "has 1 covariate values, expected 6"),
            (With(r => r with { Weight = 0 }), Quick, "weight 0"),
            (With(r => r with { Target = double.NegativeInfinity }), Quick, "ln k"),
            (With(r => r with { Target = -4 }), Quick, "same decay rate"),
            (With(r => r with { LatitudeDegrees = 99 }), Quick, "latitude 99"),
            (With(r => r with { SiteKey = "only" }), Quick, "expected at least 3"),
        ];
        foreach ((TrainingSet? bad, TrainingOptions? options, string? says) in cases)
        {
            PredictionException e = Assert.Throws<PredictionException>(() => ModelTrainer.Train(bad, options));
            Assert.Contains(says, e.Message, StringComparison.Ordinal);
            Assert.EndsWith(".", e.Message, StringComparison.Ordinal);
        }
    }
}
