using System.Runtime.ExceptionServices;

namespace DecayAtlas.Prediction.Validation;

/// <summary>Held-out predictions, and for each fold the setting chosen without it and the model that made them.</summary>
internal sealed record HeldOutPredictions(double[] Values, IReadOnlyList<Setting> SettingOfFold, IReadOnlyList<RatePredictor> ModelOfFold)
{
    public ValidationScore Score(CovariateTable table, CrossValidationFolds folds)
    {
        List<double> perFold = Enumerable.Range(0, folds.Count).Select(f => ErrorMetrics.Of(
            [.. folds.HeldOut(f).Select(r => table.Targets[r])], [.. folds.HeldOut(f).Select(r => Values[r])]).Rmse).ToList();
        return new(ErrorMetrics.Of(table.Targets, Values), perFold, folds.Names);
    }
}

/// <summary>
/// Trains a candidate once a fold and predicts what the fold held out. Fits run on all processors; each is of one thread
/// and of its own seed, so that their order cannot change a number.
/// </summary>
internal static class CrossValidation
{
    private static readonly Dictionary<Setting, HeldOutPredictions> NoneTried = [];

    /// <summary>With one setting everywhere.</summary>
    /// <param name="folded">Called as each fold is done.</param>
    public static HeldOutPredictions Run(Candidate candidate, Setting setting, CovariateTable table, CrossValidationFolds folds,
        TrainingOptions options, Action? folded = null) =>
        Run(candidate, (_, _) => setting, table, folds, options, folded: folded);

    /// <summary>With one setting a fold, as a nested run has chosen them.</summary>
    public static HeldOutPredictions Run(Candidate candidate, IReadOnlyList<Setting> settingOfFold, CovariateTable table,
        CrossValidationFolds folds, TrainingOptions options) =>
        Run(candidate, (fold, _) => settingOfFold[fold], table, folds, options);

    /// <summary>Nested: each fold's setting is searched within its training part, so that what is held out chose nothing (Varma and Simon
    /// 2006, BMC Bioinformatics 7:91).</summary>
    /// <param name="tried">What <see cref="Choose"/> made of each setting on the same folds: a fold that chooses one of them need not
    /// train it a second time.</param>
    public static HeldOutPredictions RunNested(Candidate candidate, CovariateTable table, CrossValidationFolds folds,
        TrainingOptions options, IReadOnlyDictionary<Setting, HeldOutPredictions>? tried = null, Action? folded = null) =>
        Run(candidate, (_, training) => ChooseWithin(candidate, training, options), table, folds, options, tried, folded);

    /// <summary>The setting with the lowest RMSE over the given folds, of equals the plainest, and what each gave; nothing of a setting
    /// that is the only one.</summary>
    public static (Setting Chosen, IReadOnlyDictionary<Setting, HeldOutPredictions> Tried) Choose(Candidate candidate,
        CovariateTable table, CrossValidationFolds folds, TrainingOptions options, Action? folded = null)
    {
        IReadOnlyList<Setting> settings = candidate.Settings(options);
        if (settings.Count == 1)
            return (settings[0], NoneTried);
        Dictionary<Setting, HeldOutPredictions> tried = settings.ToDictionary(s => s,
            s => Run(candidate, s, table, folds, options, folded));
        return (settings.MinBy(s => ErrorMetrics.Of(table.Targets, tried[s].Values).Rmse)!, tried);
    }

    private static Setting ChooseWithin(Candidate candidate, CovariateTable training, TrainingOptions options) =>
        candidate.Settings(options) is [var only] ? only
            : Choose(candidate, training,
                CrossValidationFolds.Inner(training.Rows, options.InnerFolds, options.BlockDegrees, options.Seed), options).Chosen;

    private static HeldOutPredictions Run(
        Candidate candidate, Func<int, CovariateTable, Setting> settingOf, CovariateTable table, CrossValidationFolds folds,
        TrainingOptions options, IReadOnlyDictionary<Setting, HeldOutPredictions>? tried = null, Action? folded = null)
    {
        double[] predicted = new double[table.Count];
        Setting[] settings = new Setting[folds.Count];
        RatePredictor[] models = new RatePredictor[folds.Count];
        Exception?[] failures = new Exception?[folds.Count];
        Parallel.For(0, folds.Count, fold =>
        {
            try
            {
                CovariateTable training = table.Subset(folds.Training(fold));
                settings[fold] = settingOf(fold, training);
                models[fold] = (tried ?? NoneTried).TryGetValue(settings[fold], out HeldOutPredictions? same) ? same.ModelOfFold[fold]
                    : candidate.Fit(training, settings[fold], options).Predictor;
                foreach (int row in folds.HeldOut(fold))
                    predicted[row] = models[fold].Predict(table.FeaturesOf(row), table.Places[row]);
            }
            catch (Exception e)
            {
                failures[fold] = e;
            }

            folded?.Invoke();
        });
        // The first fold's, and not that of the thread that failed first, so that a card says the same each time.
        if ((failures.FirstOrDefault(f => f is not null && MachineFault.In(f) is not null)
            ?? failures.FirstOrDefault(f => f is not null)) is { } failure)
        {
            ExceptionDispatchInfo.Throw(failure);
        }

        int lost = Array.FindIndex(predicted, p => !double.IsFinite(p));
        if (lost >= 0)
            throw new PredictionException($"It predicts no finite number for site '{table.Rows[lost].SiteKey}', held out.");
        return new(predicted, settings, models);
    }
}
