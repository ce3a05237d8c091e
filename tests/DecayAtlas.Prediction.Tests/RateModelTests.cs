using System.Diagnostics;
using Microsoft.ML.OnnxRuntime;
using Microsoft.ML.OnnxRuntime.Tensors;

namespace DecayAtlas.Prediction.Tests;

public class RateModelTests
{
    private static readonly TrainingOptions Quick = new() { Folds = 3, Trees = 30, SettingsTried = 1, ImportanceRepeats = 2, Members = 20 };

    public static TheoryData<bool> Truths => [true, false];

    [Theory]
    [MemberData(nameof(Truths))]
    public void A_saved_model_predicts_the_same_numbers(bool curved)
    {
        using TemporaryFolder folder = new();
        TrainingSet set = InventedSites.Make(200, curved ? InventedSites.CurvedTruth : InventedSites.LinearTruth, 0.05);
        using RateModel model = ModelTrainer.Train(set, Quick);
        model.Save(folder.Path);
        using RateModel again = RateModel.Load(folder.Path);

        double[] features = set.Rows.SelectMany(r => r.Covariates).ToArray();
        double[] before = new double[set.Rows.Count], after = new double[set.Rows.Count];
        model.PredictLnRate(features, before);
        again.PredictLnRate(features, after);
        Assert.Equal(before, after);
        Assert.Equal(model.Card.ModelId, again.Card.ModelId);
        Assert.Equal(model.Card.WinnerScore().Blocked.Pooled, again.Card.WinnerScore().Blocked.Pooled);
        Assert.Equal(model.Card.Options, again.Card.Options);
        Assert.Equal(model.Card.Covariates, again.Card.Covariates);
    }

    [Fact]
    public async Task Two_trainings_seconds_apart_give_the_same_bytes()
    {
        using TemporaryFolder folder = new();
        TrainingSet set = InventedSites.Make(150, InventedSites.CurvedTruth, 0.1);
        using RateModel one = ModelTrainer.Train(set, Quick);
        one.Save(folder.Of("one"));
        // A zip entry's time has a resolution of two seconds.
        await Task.Delay(2100, TestContext.Current.CancellationToken);
        using RateModel two = ModelTrainer.Train(set, Quick);
        two.Save(folder.Of("two"));
        Assert.Equal(13, Directory.GetFiles(folder.Of("one")).Length);
        foreach (string file in Directory.GetFiles(folder.Of("one")).Select(Path.GetFileName).OfType<string>())
            Assert.Equal(File.ReadAllBytes(folder.Of("one", file)), File.ReadAllBytes(folder.Of("two", file)));
    }

    /// <summary>The runtime is Microsoft's own for ONNX, which knows nothing of ML.NET.</summary>
    [Fact]
    public void The_ONNX_graph_gives_the_same_numbers_in_another_program()
    {
        TrainingSet set = InventedSites.Make(120, InventedSites.CurvedTruth, 0.1);
        CovariateTable table = CovariateTable.Of(set);
        foreach (MlCandidate candidate in CandidateSet.Of(set, Quick).Learned.OfType<MlCandidate>())
        {
            FittedModel fitted = candidate.Fit(table, candidate.Settings(Quick)[0], Quick);
            using InferenceSession session = new(fitted.Save().Onnx);
            double[] ours = new double[table.Count];
            fitted.Predictor.Predict(table.Features, ours);
            for (int r = 0; r < table.Count; r += 10)
            {
                DenseTensor<float> input = new(table.FeaturesOf(r).ToArray(), [1, table.FeatureCount]);
                using IDisposableReadOnlyCollection<DisposableNamedOnnxValue> answer =
                    session.Run([NamedOnnxValue.CreateFromTensor("Features", input)]);
                Assert.Equal(ours[r], answer.Single(a => a.Name == "Score.output").AsEnumerable<float>().Single(), 2e-5);
            }
        }
    }

    [Fact]
    public void A_missing_covariate_gives_a_missing_prediction()
    {
        TrainingSet set = InventedSites.Make(150, InventedSites.CurvedTruth, 0.1);
        using RateModel model = ModelTrainer.Train(set, Quick);
        double[] answer = new double[2];
        model.PredictLnRate([1, 2, double.NaN, 4, 5, 6, 1, 2, 3, 4, 5, 6], answer);
        Assert.True(double.IsNaN(answer[0]));
        Assert.True(double.IsFinite(answer[1]));
    }

    [Fact]
    public void Any_change_of_release_options_or_rows_changes_the_id()
    {
        TrainingSet set = InventedSites.Make(100, InventedSites.LinearTruth, 0.1);
        string Id(TrainingSet s, TrainingOptions o) => CardMaker.IdOf(s, CovariateTable.Of(s), o);
        string[] ids =
        [
            Id(set, Quick), Id(set with { ReleaseId = "other" }, Quick), Id(set, Quick with { Seed = 2 }),
            Id(set with { Rows = [.. set.Rows.Skip(1)] }, Quick),
            Id(set with { Rows = [set.Rows[0] with { Target = Math.BitIncrement(set.Rows[0].Target) }, .. set.Rows.Skip(1)] }, Quick),
        ];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.Equal(ids[0], Id(set, Quick));
    }

    [Fact]
    public void The_card_says_what_a_reader_must_know()
    {
        using RateModel model = ModelTrainer.Train(InventedSites.Make(200, InventedSites.CurvedTruth, 0.1), Quick);
        string text = ModelCardMarkdown.Of(model.Card);
        foreach (string part in new[]
        {
            model.Card.ModelId, "release-test", "These are the numbers to believe", "Regulation", "Fertiliser", "Carbon credits",
            "Training mean (no model)",
            "150 sites, 2 campaigns", "3 rows left out", "Supported:", "Moran", "area of applicability", "Would more sites help?",
                "accumulated local effect", "Buried from 2021-06-01, retrieved until 2021-09-20", "Seed 1, 3 folds", "`temperature` | degC",
        })
        {
            Assert.Contains(part, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_folder_that_is_no_model_is_one_clear_sentence()
    {
        using TemporaryFolder folder = new();
        Assert.Contains("does not exist", Assert.Throws<PredictionException>(() => RateModel.Load(folder.Of("none"))).Message,
            StringComparison.Ordinal);

        using RateModel model = ModelTrainer.Train(InventedSites.Make(100, InventedSites.LinearTruth, 0.1), Quick);
        model.Save(folder.Path);
        foreach (string file in Directory.GetFiles(folder.Path, "model.*"))
            File.WriteAllText(file, "nonsense");
        Assert.Contains("cannot be read as a model", Assert.Throws<PredictionException>(() => RateModel.Load(folder.Path)).Message,
            StringComparison.Ordinal);
        model.Save(folder.Path);
        File.WriteAllText(Assert.Single(Directory.GetFiles(folder.Path, "members.*")), "nonsense");
        Assert.Contains("does not hold the members", Assert.Throws<PredictionException>(() => RateModel.Load(folder.Path)).Message,
            StringComparison.Ordinal);
        model.Save(folder.Path);
        File.WriteAllText(folder.Of(RateModel.CardJsonFile), "{ \"card_version\": 7 }");
        string says = Assert.Throws<PredictionException>(() => RateModel.Load(folder.Path)).Message;
        Assert.Contains("not a readable card", says, StringComparison.Ordinal);
        Assert.DoesNotContain("DecayAtlas.", says, StringComparison.Ordinal);
        model.Save(folder.Path);
        string card = File.ReadAllText(folder.Of(RateModel.CardJsonFile));
        File.WriteAllText(
            folder.Of(RateModel.CardJsonFile), card.Replace("\"left_out\": []", "\"left_out\": [null]", StringComparison.Ordinal));
        Assert.NotEqual(card, File.ReadAllText(folder.Of(RateModel.CardJsonFile)));
        says = Assert.Throws<PredictionException>(() => RateModel.Load(folder.Path)).Message;
        Assert.Contains("not a readable card", says, StringComparison.Ordinal);
        File.WriteAllText(folder.Of(RateModel.CardJsonFile), "{ \"card_version\": 99 }");
        Assert.Contains("card_version 7", Assert.Throws<PredictionException>(() => RateModel.Load(folder.Path)).Message,
            StringComparison.Ordinal);
    }

    /// <summary>A new process of this test program, asked to run one test that predicts from a folder named in the environment.</summary>
    [Fact]
    public async Task A_new_process_predicts_the_same_numbers()
    {
        using TemporaryFolder folder = new();
        using RateModel model = ModelTrainer.Train(InventedSites.Make(150, InventedSites.CurvedTruth, 0.1), Quick);
        model.Save(folder.Path);
        double[] answer = new double[1];
        model.PredictLnRate([1, 2, 3, 4, 5, 6], answer);

        string program = Path.Combine(AppContext.BaseDirectory, "DecayAtlas.Prediction.Tests.dll");
        ProcessStartInfo start = new("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in new[] { program, "-explicit", "only",
            "-method", $"{typeof(RateModelTests).FullName}.{nameof(In_the_new_process)}" })
        {
            start.ArgumentList.Add(argument);
        }

        start.Environment["DECAYATLAS_TEST_MODEL"] = folder.Path;
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        string output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(File.Exists(folder.Of("answer.txt")), output + await errors);
        Assert.Equal(answer[0].ToString("R", null), File.ReadAllText(folder.Of("answer.txt")));
    }

    [Fact(Explicit = true)] // only as the second process of the test above
    public void In_the_new_process()
    {
        string? folder = Environment.GetEnvironmentVariable("DECAYATLAS_TEST_MODEL");
        using RateModel model = RateModel.Load(folder!);
        double[] answer = new double[1];
        model.PredictLnRate([1, 2, 3, 4, 5, 6], answer);
        File.WriteAllText(Path.Combine(folder!, "answer.txt"), answer[0].ToString("R", null));
    }
}
