namespace DecayAtlas.Prediction.Candidates;

/// <summary>The weighted mean of the training rows, whatever the covariates.</summary>
internal sealed class MeanCandidate() : Candidate(StableName, "Training mean (no model)")
{
    public const string StableName = "mean";

    public override IReadOnlyList<Setting> Settings(TrainingOptions options) => [new()];

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        double sum = 0;
        for (int r = 0; r < table.Count; r++)
            sum += table.Weights[r] * table.Targets[r];
        return FittedModel.Of(new ConstantFormula(table.FeatureCount, sum / table.Weights.Sum()));
    }
}
