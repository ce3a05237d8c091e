using Microsoft.ML;

namespace DecayAtlas.Prediction;

/// <summary>Held-out predictions of one candidate, and the model of each fold that made them.</summary>
internal sealed record HeldOutPredictions(double[] LnRates, IReadOnlyList<RatePredictor> ModelOfFold);

/// <summary>Trains a candidate once a fold and predicts what the fold held out.</summary>
internal static class CrossValidation
{
    public static HeldOutPredictions Run(Candidate candidate, CovariateTable table, CrossValidationFolds folds, TrainingOptions options)
    {
        var predicted = new double[table.Count];
        var models = new List<RatePredictor>();
        for (int fold = 0; fold < folds.Count; fold++)
        {
            // A fresh context each time: its random state would otherwise remember the fits before.
            var model = candidate.Train(new MLContext(options.Seed), table.Subset(folds.Training(fold)), options).Predictor;
            foreach (int row in folds.HeldOut(fold))
                predicted[row] = model.Predict(table.FeaturesOf(row));
            models.Add(model);
        }
        return new(predicted, models);
    }

    /// <summary>Predicts the weighted mean of each fold's training rows: what knowing no covariate gives.</summary>
    public static double[] RunMean(CovariateTable table, CrossValidationFolds folds)
    {
        var predicted = new double[table.Count];
        for (int fold = 0; fold < folds.Count; fold++)
        {
            var training = folds.Training(fold).ToList();
            double mean = training.Sum(r => table.Weights[r] * table.LnRates[r]) / training.Sum(r => table.Weights[r]);
            foreach (int row in folds.HeldOut(fold))
                predicted[row] = mean;
        }
        return predicted;
    }

    public static ValidationScore Score(CovariateTable table, CrossValidationFolds folds, double[] predicted)
    {
        var perFold = Enumerable.Range(0, folds.Count)
            .Select(f => folds.HeldOut(f).ToList())
            .Select(rows => ErrorMetrics.Of(rows.Select(r => table.LnRates[r]).ToArray(), rows.Select(r => predicted[r]).ToArray()).Rmse)
            .ToList();
        return new(ErrorMetrics.Of(table.LnRates, predicted), perFold);
    }
}
