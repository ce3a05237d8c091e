using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;

namespace DecayAtlas.Prediction;

/// <summary>A way of learning ln k from covariates. The list is ordered from simple to flexible; of two equal scores the simpler wins.</summary>
/// <param name="Name">Stable name in cards and tables.</param>
/// <param name="Title">Name for people.</param>
/// <param name="Estimator">Builds the untrained ML.NET pipeline from columns <see cref="MlData.Features"/>, <see cref="MlData.Label"/>, <see cref="MlData.Weight"/>.</param>
internal sealed record Candidate(string Name, string Title, Func<MLContext, TrainingOptions, IEstimator<ITransformer>> Estimator)
{
    public static IReadOnlyList<Candidate> All { get; } =
    [
        new("linear", "Regularised linear (SDCA)", Linear),
        new("forest", "Random forest (FastForest)", Forest),
        new("boosted-trees", "Boosted trees (FastTree)", BoostedTrees),
    ];

    /// <summary>Trains on all rows of <paramref name="table"/>.</summary>
    public TrainedCandidate Train(MLContext ml, CovariateTable table, TrainingOptions options)
    {
        var transformer = Estimator(ml, options).Fit(MlData.View(ml, table));
        return new(this, transformer, RatePredictor.Of(transformer));
    }

    // One thread everywhere: with more, SDCA's updates interleave and sums change with the machine.
    private static EstimatorChain<RegressionPredictionTransformer<LinearRegressionModelParameters>> Linear(MLContext ml, TrainingOptions options) =>
        ml.Transforms.NormalizeMeanVariance(MlData.Features, fixZero: false)
            .Append(ml.Regression.Trainers.Sdca(new SdcaRegressionTrainer.Options
            {
                FeatureColumnName = MlData.Features,
                LabelColumnName = MlData.Label,
                ExampleWeightColumnName = MlData.Weight,
                L2Regularization = (float)options.LinearL2,
                L1Regularization = 0,
                NumberOfThreads = 1,
                MaximumNumberOfIterations = 500,
                ConvergenceTolerance = 1e-6f,
                ConvergenceCheckFrequency = 10,
            }));

    private static FastForestRegressionTrainer Forest(MLContext ml, TrainingOptions options) =>
        ml.Regression.Trainers.FastForest(new FastForestRegressionTrainer.Options
        {
            FeatureColumnName = MlData.Features,
            LabelColumnName = MlData.Label,
            ExampleWeightColumnName = MlData.Weight,
            NumberOfTrees = options.Trees,
            NumberOfLeaves = options.LeavesPerTree,
            MinimumExampleCountPerLeaf = options.MinimumRowsPerLeaf,
            NumberOfThreads = 1,
            Seed = options.Seed,
            FeatureSelectionSeed = options.Seed,
        });

    private static FastTreeRegressionTrainer BoostedTrees(MLContext ml, TrainingOptions options) =>
        ml.Regression.Trainers.FastTree(new FastTreeRegressionTrainer.Options
        {
            FeatureColumnName = MlData.Features,
            LabelColumnName = MlData.Label,
            ExampleWeightColumnName = MlData.Weight,
            NumberOfTrees = options.Trees,
            NumberOfLeaves = options.LeavesPerTree,
            MinimumExampleCountPerLeaf = options.MinimumRowsPerLeaf,
            LearningRate = options.LearningRate,
            NumberOfThreads = 1,
            Seed = options.Seed,
            FeatureSelectionSeed = options.Seed,
        });
}

/// <summary>A trained candidate: what ML.NET saves, and what predicts quickly.</summary>
internal sealed record TrainedCandidate(Candidate Candidate, ITransformer Transformer, RatePredictor Predictor)
{
    /// <summary>ln k (k in d⁻¹) of each row of the table.</summary>
    public double[] Predict(CovariateTable table)
    {
        var predicted = new double[table.Count];
        Predictor.Predict(table.Features, predicted);
        return predicted;
    }
}
