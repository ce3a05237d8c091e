using DecayAtlas.Grids;
using Microsoft.ML;

namespace DecayAtlas.Prediction;

/// <summary>
/// Chooses and trains a model of ln k: every candidate is scored on held-out spatial blocks and on held-out random sites,
/// the lowest blocked RMSE wins and is trained again on all rows.
/// </summary>
public static class ModelTrainer
{
    /// <summary>The id of the model that <see cref="Train"/> would make: it tells whether that model is there already.</summary>
    public static string IdOf(TrainingSet set, TrainingOptions options) => CardMaker.IdOf(set, CovariateTable.Of(set), options);

    /// <summary>Trains a model. The same set and options give the same model, bit for bit, in any row order.</summary>
    /// <param name="set">What to learn from.</param>
    /// <param name="options">Settings; all enter the model id.</param>
    /// <param name="progress">Told what is being done, steps done, steps in all.</param>
    /// <exception cref="PredictionException">The rows, blocks or covariates do not allow training, or a setting makes no sense.</exception>
    public static RateModel Train(TrainingSet set, TrainingOptions options, Action<string, int, int>? progress = null)
    {
        options.Check();
        TrainingSetCheck.Run(set, options);
        var table = CovariateTable.Of(set);
        var blocked = CrossValidationFolds.Blocked(table.Rows, options.Folds, options.BlockDegrees);
        var random = CrossValidationFolds.Random(table.Rows, options.Folds, options.Seed);
        CheckTrainable(table, blocked, set.Covariates);
        CheckTrainable(table, random, set.Covariates);

        int steps = Candidate.All.Count * 2 + 2, done = 0;
        void Report(string what) => progress?.Invoke(what, done++, steps);

        var scores = new List<CandidateScore>
        {
            new(ModelCard.BaselineName, "Training mean (no model)",
                CrossValidation.Score(table, blocked, CrossValidation.RunMean(table, blocked)),
                CrossValidation.Score(table, random, CrossValidation.RunMean(table, random))),
        };
        Candidate? winner = null;
        HeldOutPredictions? winnerHeldOut = null;
        double lowest = double.PositiveInfinity;
        foreach (var candidate in Candidate.All)
        {
            Report($"{candidate.Title}, blocked folds");
            var onBlocks = CrossValidation.Run(candidate, table, blocked, options);
            Report($"{candidate.Title}, random folds");
            var onRandom = CrossValidation.Run(candidate, table, random, options);
            var score = new CandidateScore(candidate.Name, candidate.Title,
                CrossValidation.Score(table, blocked, onBlocks.LnRates),
                CrossValidation.Score(table, random, onRandom.LnRates));
            scores.Add(score);
            if (score.Blocked.Pooled.Rmse < lowest)
                (winner, winnerHeldOut, lowest) = (candidate, onBlocks, score.Blocked.Pooled.Rmse);
        }
        if (winner is null || winnerHeldOut is null)
            throw new PredictionException("No candidate model gave a finite error on held-out blocks; check the training set for extreme values.");

        Report("Covariate importance");
        var importance = PermutationImportance.Of(set.Covariates, table, blocked, winnerHeldOut, options);
        double[] residuals = [.. winnerHeldOut.LnRates.Select((p, r) => p - table.LnRates[r])];
        var (applicability, index) = Applicability.Of(table, blocked.FoldOfRow, [.. importance.Select(i => i.RmseIncrease)]);
        var interval = PredictionInterval.Of(options.IntervalLevel, residuals, index);
        var errors = ErrorCorrelation.Of([.. table.Rows.Select(r => new GeoPoint(r.LongitudeDegrees, r.LatitudeDegrees))], residuals, blocked.Groups);
        Report($"{winner.Title}, all rows");
        var ml = new MLContext(options.Seed);
        var trained = winner.Train(ml, table, options);
        progress?.Invoke("Model trained", steps, steps);

        var card = CardMaker.Make(set, table, options, blocked.Groups, winner.Name, scores, importance,
            ApplicabilitySummary.Of(applicability, index), interval);
        return new RateModel(card, trained.Predictor, MlModelFile.Write(ml, trained.Transformer, MlData.View(ml, table).Schema),
            new ModelLimits(applicability.State, interval, errors));
    }

    /// <summary>A covariate may vary over all rows and yet be constant in what one fold trains on.</summary>
    private static void CheckTrainable(CovariateTable table, CrossValidationFolds folds, IReadOnlyList<CovariateInfo> covariates)
    {
        for (int fold = 0; fold < folds.Count; fold++)
        {
            var rows = folds.Training(fold).ToList();
            for (int c = 0; c < covariates.Count; c++)
                if (rows.All(r => table.FeaturesOf(r)[c] == table.FeaturesOf(rows[0])[c]))
                    throw new PredictionException($"Covariate '{covariates[c].Name}' does not vary outside the blocks held out in fold {fold + 1} of {folds.Count}; leave it out, use fewer folds or smaller blocks.");
        }
    }
}
