using Microsoft.ML;
using Microsoft.ML.Trainers.FastTree;
using Microsoft.ML.Trainers.LightGbm;

namespace DecayAtlas.Prediction.Candidates;

/// <summary>A candidate that ML.NET trains. One thread everywhere: with more, sums would change with the machine.</summary>
internal abstract class MlCandidate(string name, string title) : Candidate(name, title)
{
    /// <summary>Thresholds that a tree chooses from for each covariate: on the demo and on soil zinc it errs as with 255, in half the time
    /// and less.</summary>
    private const int MostBins = 64;

    /// <summary>Of the trees of the model a member has so many fewer.</summary>
    private const int FewerTrees = 4;

    /// <summary>Fewer trees that each learn more: what they come to scatters as that of more trees does, or a little more.</summary>
    public override (Setting Setting, TrainingOptions Options) OfMember(Setting setting, TrainingOptions options)
    {
        int trees = Math.Min(options.Trees, Math.Max(10, options.Trees / FewerTrees));
        double rate = Math.Min(setting.LearningRate * options.Trees / trees, Math.Max(0.3, setting.LearningRate));
        return (setting with { LearningRate = setting.LearningRate > 0 ? rate : 0 }, options with { Trees = trees });
    }

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        // A fresh context each time: its random state would otherwise remember the fits before.
        MLContext ml = new(options.Seed);
        IDataView view = MlData.View(ml, table);
        ITransformer transformer = Train(ml, view, setting, options);
        return new(RatePredictor.Of(transformer), () => new(
            SavedPredictor.MlFile, MlModelFile.Write(ml, transformer, view.Schema), MlModelFile.Onnx(ml, transformer, table.FeatureCount)));
    }

    // Trees hand each feature of each node to the pool and wait for it: a thread of the pool then does it itself, any other sleeps.
    internal ITransformer Train(MLContext ml, IDataView view, Setting setting, TrainingOptions options) =>
        Task.Run(() => Estimator(ml, setting, options).Fit(view)).GetAwaiter().GetResult();

    protected abstract IEstimator<ITransformer> Estimator(MLContext ml, Setting setting, TrainingOptions options);

    protected static IReadOnlyList<Setting> Some(TrainingOptions options, params Setting[] settings) =>
        [.. settings.Take(options.SettingsTried)];

    protected static T OfTrees<T>(T trees, Setting setting, TrainingOptions options)
        where T : TreeOptions
    {
        trees.NumberOfTrees = options.Trees;
        trees.NumberOfLeaves = setting.Leaves;
        trees.MinimumExampleCountPerLeaf = setting.RowsPerLeaf;
        trees.NumberOfThreads = 1;
        trees.MaximumBinCountPerFeature = MostBins;
        trees.Seed = trees.FeatureSelectionSeed = options.Seed;
        trees.FeatureColumnName = MlData.Features;
        trees.LabelColumnName = MlData.Label;
        trees.ExampleWeightColumnName = MlData.Weight;
        return trees;
    }
}

/// <summary>The mean of many trees, each of a resample of the rows (Breiman 2001, Machine Learning 45:5-32).</summary>
internal sealed class ForestCandidate() : MlCandidate("forest", "Random forest (FastForest)")
{
    // Slow to train, and hardly cares for its settings (Probst, Wright and Boulesteix 2019, from memory): half as many are tried.
    public override IReadOnlyList<Setting> Settings(TrainingOptions options) =>
        Some(options with { SettingsTried = (options.SettingsTried + 1) / 2 },
        new Setting(Leaves: 64, RowsPerLeaf: 2), new Setting(Leaves: 16, RowsPerLeaf: 5));

    protected override IEstimator<ITransformer> Estimator(MLContext ml, Setting setting, TrainingOptions options) =>
        ml.Regression.Trainers.FastForest(
            // samples in the leaves are for quantiles, which nobody asks for
            OfTrees(new FastForestRegressionTrainer.Options { NumberOfQuantileSamples = 1 }, setting, options));
}

/// <summary>Trees that each mend what those before left (Friedman 2001, Annals of Statistics 29:1189-1232).</summary>
internal sealed class BoostedTreesCandidate() : MlCandidate("boosted-trees", "Boosted trees (FastTree)")
{
    public override IReadOnlyList<Setting> Settings(TrainingOptions options) => Some(options,
        new Setting(4, 8, 0.1), new Setting(8, 5, 0.05), new Setting(4, 8, 0.03), new Setting(16, 5, 0.1));

    protected override IEstimator<ITransformer> Estimator(MLContext ml, Setting setting, TrainingOptions options)
    {
        FastTreeRegressionTrainer.Options trees = OfTrees(new FastTreeRegressionTrainer.Options(), setting, options);
        trees.LearningRate = setting.LearningRate;
        return ml.Regression.Trainers.FastTree(trees);
    }
}

/// <summary>Boosting as LightGBM does it (Ke et al. 2017, NIPS 30). Needs its native library, which comes for x64 only.</summary>
internal sealed class LightGbmCandidate() : MlCandidate("lightgbm", "Gradient boosting (LightGBM)")
{
    /// <summary>Why this machine cannot run it; missing where it can.</summary>
    public static Lazy<string?> WhyAbsent { get; } = new(() =>
    {
        try
        {
            List<TrainingRow> rows = Enumerable.Range(0, 8).Select(i => new TrainingRow($"{i}", "", 0, 0, i, 1, default, default, [i]))
                .ToList();
            new LightGbmCandidate().Fit(CovariateTable.Of(new([new("x", "1", "x")], rows, "", 0)), new(2, 1, 0.1, 1),
                new TrainingOptions { Trees = 1 });
            return null;
        }
        catch (Exception e) when (e.GetBaseException() is DllNotFoundException or BadImageFormatException or EntryPointNotFoundException)
        {
            return "its native library cannot be loaded on this machine (it comes for x64, and on Linux needs libgomp)";
        }
    });

    public override IReadOnlyList<Setting> Settings(TrainingOptions options) => Some(options,
        new Setting(4, 8, 0.1, 1), new Setting(8, 5, 0.05, 1), new Setting(4, 8, 0.05, 10), new Setting(16, 5, 0.05, 1));

    protected override IEstimator<ITransformer> Estimator(MLContext ml, Setting setting, TrainingOptions options) =>
        ml.Regression.Trainers.LightGbm(new LightGbmRegressionTrainer.Options
        {
            FeatureColumnName = MlData.Features,
            LabelColumnName = MlData.Label,
            ExampleWeightColumnName = MlData.Weight,
            NumberOfIterations = options.Trees,
            NumberOfLeaves = setting.Leaves,
            MinimumExampleCountPerLeaf = setting.RowsPerLeaf,
            LearningRate = setting.LearningRate,
            Booster = new GradientBooster.Options { L2Regularization = setting.Penalty },
            NumberOfThreads = 1,
            Seed = options.Seed,
            Deterministic = true,
        });
}
