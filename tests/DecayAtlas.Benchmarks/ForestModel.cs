namespace DecayAtlas.Benchmarks;

/// <summary>A model that is a forest whatever the comparison of candidates says, for the benchmark of maps: all else of it is what training
/// makes.</summary>
internal static class ForestModel
{
    public static RateModel Train(TrainingSet set, int trees, int leaves)
    {
        TrainingOptions options = new() { Folds = 3, BlockDegrees = 5, Trees = 20, SettingsTried = 1, ImportanceRepeats = 1 };
        using RateModel usual = ModelTrainer.Train(set, options);
        (ForestCandidate forest, CovariateTable table, Setting setting) =
            (new(), CovariateTable.Of(set), new(Leaves: leaves, RowsPerLeaf: 2));
        options = options with { Trees = trees };
        FittedModel fitted = forest.Fit(table, setting, options);
        MemberSet members = MemberTraining.Of(table, forest, setting, options).Members;
        return new(usual.Card, fitted.Predictor, fitted.Save(), usual.Limits, members, []);
    }

    /// <summary>Predicts without interval, dissimilarity and applicability.</summary>
    public static void PredictOnly(this RateModel model, PredictionBlock block, int count)
    {
        int complete = block.GatherComplete(count, model.Coding);
        model.Predictor.Predict(block.Features.AsSpan(0, complete * model.Coding.Count), block.Values.AsSpan(0, complete));
    }
}
