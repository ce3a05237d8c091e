using System.Globalization;

namespace DecayAtlas.Prediction;

/// <summary>Settings of training. All are part of the model id, so a change of any makes another model.</summary>
/// <param name="Seed">Seed of random folds, tree building and permutation.</param>
/// <param name="Folds">Number of cross-validation folds.</param>
/// <param name="BlockDegrees">Side of a square spatial block in degrees of latitude and longitude. It should exceed the
/// distance over which neighbouring sites resemble each other.</param>
/// <param name="MinimumRows">Fewest rows worth training on (common practice, no source).</param>
/// <param name="Trees">Trees in the forest and in the boosted ensemble.</param>
/// <param name="LeavesPerTree">Most leaves of one tree.</param>
/// <param name="MinimumRowsPerLeaf">Fewest training rows in a leaf.</param>
/// <param name="LearningRate">Shrinkage of each boosted tree.</param>
/// <param name="LinearL2">Ridge penalty of the linear model on standardised features.</param>
/// <param name="ImportanceRepeats">Permutations of each covariate.</param>
/// <param name="IntervalLevel">Share of new site-campaign means that a prediction interval is to hold.</param>
public sealed record TrainingOptions(
    int Seed = 1,
    int Folds = 5,
    double BlockDegrees = 1.0,
    int MinimumRows = 30,
    int Trees = 200,
    int LeavesPerTree = 16,
    int MinimumRowsPerLeaf = 5,
    double LearningRate = 0.05,
    double LinearL2 = 1e-4,
    int ImportanceRepeats = 10,
    double IntervalLevel = 0.90)
{
    /// <summary>Throws a <see cref="PredictionException"/> that names the first setting that makes no sense.</summary>
    internal void Check()
    {
        Require(Folds >= 2, "folds", Folds, "at least 2");
        Require(BlockDegrees is > 0 and <= 180, "block_degrees", BlockDegrees, "above 0 and at most 180");
        Require(MinimumRows >= 10, "minimum_rows", MinimumRows, "at least 10");
        Require(Trees is >= 1 and <= 10_000, "trees", Trees, "1 to 10000");
        Require(LeavesPerTree is >= 2 and <= 1024, "leaves_per_tree", LeavesPerTree, "2 to 1024");
        Require(MinimumRowsPerLeaf >= 1, "minimum_rows_per_leaf", MinimumRowsPerLeaf, "at least 1");
        Require(LearningRate is > 0 and <= 1, "learning_rate", LearningRate, "above 0 and at most 1");
        Require(LinearL2 is > 0 and < 1e6, "linear_l2", LinearL2, "above 0");
        Require(ImportanceRepeats >= 1, "importance_repeats", ImportanceRepeats, "at least 1");
        Require(IntervalLevel is >= 0.5 and <= 0.99, "interval_level", IntervalLevel, "0.5 to 0.99");
    }

    private static void Require(bool holds, string name, double found, string expected)
    {
        if (!holds)
            throw new PredictionException(string.Create(
                CultureInfo.InvariantCulture,
                $"Training option {name} is {found}, expected {expected}; correct it in the configuration."));
    }
}
