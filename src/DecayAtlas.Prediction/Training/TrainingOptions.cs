namespace DecayAtlas.Prediction.Training;

/// <summary>Settings of training. All are part of the model id, so a change of any makes another model.</summary>
public sealed record TrainingOptions
{
    [Setting("seed", "a whole number, 0 or more", "Seed of random folds, tree building and permutation", Least = 0)]
    public int Seed { get; init; } = 1;

    [Setting("folds", "a whole number, 2 or more", "Folds of the cross-validation", Least = 2)]
    public int Folds { get; init; } = 5;

    [Setting("block_degrees", "degrees, above 0 and at most 180",
        "Side of a square spatial block in latitude and longitude; it should exceed the distance over which neighbouring sites "
        + "resemble each other",
        Above = 0, Most = 180)]
    public double BlockDegrees { get; init; } = 1.0;

    [Setting("minimum_rows", "a whole number, 10 or more", "Fewest rows worth training on (common practice, no source)", Least = 10)]
    public int MinimumRows { get; init; } = 30;

    [Setting("trees", "a whole number, 1 to 10000", "Trees in the forest and in the boosted ensembles", Least = 1, Most = 10_000)]
    public int Trees { get; init; } = 100;

    [Setting("settings_tried", "how many settings of each candidate the search tries, 1 to 4",
        "Settings of each candidate that the search tries, the plainest first; 1 searches nothing", Least = 1, Most = 4)]
    public int SettingsTried { get; init; } = 2;

    [Setting("inner_folds", "folds of the search within each fold, 2 or more", "Folds of the search inside each training part", Least = 2)]
    public int InnerFolds { get; init; } = 3;

    [Setting("importance_repeats", "shuffles of each covariate, 1 or more", "Permutations of each covariate", Least = 1)]
    public int ImportanceRepeats { get; init; } = 10;

    [Setting("interval_level", "the share that a prediction interval is to hold, 0.5 to 0.99",
        "Share of new site-campaign means that a prediction interval is to hold", Least = 0.5, Most = 0.99)]
    public double IntervalLevel { get; init; } = 0.90;

    [Setting("members", "a whole number, 20 to 1000",
        "Models trained anew on resampled blocks with lots and batches drawn anew, two by two, that tell how sure maps, regions and "
        + "differences are; an odd number is rounded down",
        Least = 20, Most = 1000)]
    public int Members { get; init; } = 100;

    /// <summary>Covariate (degC) of the published baseline; without it the mean is the only baseline.</summary>
    [Setting("baseline/temperature", "the name of a covariate in degC", IsRequired = true)]
    public string? TemperatureCovariate { get; init; }

    /// <summary>Covariate (above 0) of the baseline's limitation by dry soil.</summary>
    [Setting("baseline/moisture", "the name of a covariate above 0")]
    public string? MoistureCovariate { get; init; }

    /// <exception cref="PredictionException">A setting makes no sense; the first is named.</exception>
    internal void Check()
    {
        if (DeclaredSetting.Of(this).FirstOrDefault(s => !s.Accepts(s.ValueIn(this))) is { } wrong)
        {
            throw new PredictionException(Invariant($"Training option {wrong.Name} is {wrong.ValueIn(this)}, expected {wrong.Expected}; ")
                + "correct it in the configuration.");
        }

        if (MoistureCovariate is not null && TemperatureCovariate is null)
        {
            throw new PredictionException(
                "The baseline has a moisture but no temperature; name both, or the temperature alone, in train.baseline.");
        }
    }
}
