namespace DecayAtlas.Prediction.Understanding;

/// <summary>
/// Permutation importance on held-out blocks: within each fold's held-out rows one covariate is shuffled and predicted with
/// the model that never saw them. Shuffling the training rows instead would measure what the model memorised.
/// Covariates that carry the same information share, and so hide, each other's importance.
/// </summary>
internal static class PermutationImportance
{
    public static IReadOnlyList<CovariateImportance> Of(
        IReadOnlyList<CovariateInfo> covariates, CovariateTable table, CrossValidationFolds folds, HeldOutPredictions heldOut,
        TrainingOptions options)
    {
        double rmse = ErrorMetrics.Of(table.Targets, heldOut.Values).Rmse;
        return covariates.Select((covariate, c) =>
        {
            // Seeded by covariate, so that adding a covariate does not reshuffle the ones before it.
            Random random = new(unchecked(options.Seed * 31 + c));
            SampleSummary increases = SampleSummary.Of([.. Enumerable.Range(0, options.ImportanceRepeats)
                .Select(_ => ShuffledRmse(c, table, folds, heldOut.ModelOfFold, random) - rmse)])!;
            return new CovariateImportance(covariate.Name, increases.Mean, increases.Sd ?? 0);
        }).ToList();
    }

    /// <summary>A class is shuffled as a whole, so that no row ends with two of them or none.</summary>
    private static double ShuffledRmse(int covariate, CovariateTable table, CrossValidationFolds folds,
        IReadOnlyList<RatePredictor> models, Random random)
    {
        double[] predicted = new double[table.Count];
        float[] features = new float[table.FeatureCount];
        (int first, int count) = table.Coding.ColumnsOf(covariate);
        for (int fold = 0; fold < folds.Count; fold++)
        {
            int[] rows = folds.HeldOut(fold).ToArray();
            int[] donors = rows.ToArray();
            random.Shuffle(donors);
            for (int i = 0; i < rows.Length; i++)
            {
                table.FeaturesOf(rows[i]).CopyTo(features);
                table.FeaturesOf(donors[i]).Slice(first, count).CopyTo(features.AsSpan(first, count));
                predicted[rows[i]] = models[fold].Predict(features, table.Places[rows[i]]);
            }
        }
        return ErrorMetrics.Of(table.Targets, predicted).Rmse;
    }
}
