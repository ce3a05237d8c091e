using System.Globalization;

namespace DecayAtlas.Prediction;

/// <summary>Settings of training. All are part of the model id, so a change of any makes another model.</summary>
/// <param name="Seed">Seed of random folds, tree building and permutation.</param>
/// <param name="Folds">Number of cross-validation folds.</param>
/// <param name="BlockDegrees">Side of a square spatial block in degrees of latitude and longitude. It should exceed the
/// distance over which neighbouring sites resemble each other.</param>
/// <param name="MinimumRows">Fewest rows worth training on (common practice, no source).</param>
/// <param name="Trees">Trees in the forest and in the boosted ensembles.</param>
/// <param name="SettingsTried">How many settings of each candidate the search tries, the plainest first; 1 searches nothing.</param>
/// <param name="InnerFolds">Folds of the search inside each training part.</param>
/// <param name="ImportanceRepeats">Permutations of each covariate.</param>
/// <param name="IntervalLevel">Share of new site-campaign means that a prediction interval is to hold.</param>
/// <param name="TemperatureCovariate">Covariate (degC) of the published baseline; without it the mean is the only baseline.</param>
/// <param name="MoistureCovariate">Covariate (above 0) of the baseline's limitation by dry soil.</param>
public sealed record TrainingOptions(
    int Seed = 1,
    int Folds = 5,
    double BlockDegrees = 1.0,
    int MinimumRows = 30,
    int Trees = 100,
    int SettingsTried = 2,
    int InnerFolds = 3,
    int ImportanceRepeats = 10,
    double IntervalLevel = 0.90,
    string? TemperatureCovariate = null,
    string? MoistureCovariate = null)
{
    /// <summary>Throws a <see cref="PredictionException"/> that names the first setting that makes no sense.</summary>
    internal void Check()
    {
        Require(Folds >= 2, "folds", Folds, "at least 2");
        Require(BlockDegrees is > 0 and <= 180, "block_degrees", BlockDegrees, "above 0 and at most 180");
        Require(MinimumRows >= 10, "minimum_rows", MinimumRows, "at least 10");
        Require(Trees is >= 1 and <= 10_000, "trees", Trees, "1 to 10000");
        Require(SettingsTried is >= 1 and <= 4, "settings_tried", SettingsTried, "1 to 4");
        Require(InnerFolds >= 2, "inner_folds", InnerFolds, "at least 2");
        Require(ImportanceRepeats >= 1, "importance_repeats", ImportanceRepeats, "at least 1");
        Require(IntervalLevel is >= 0.5 and <= 0.99, "interval_level", IntervalLevel, "0.5 to 0.99");
        if (MoistureCovariate is not null && TemperatureCovariate is null)
            throw new PredictionException("The baseline has a moisture but no temperature; name both, or the temperature alone, in train.baseline.");
    }

    private static void Require(bool holds, string name, double found, string expected)
    {
        if (!holds)
            throw new PredictionException(string.Create(
                CultureInfo.InvariantCulture,
                $"Training option {name} is {found}, expected {expected}; correct it in the configuration."));
    }
}
