namespace DecayAtlas.Prediction.Candidates;

/// <summary>Ridge regression on the covariates: a straight line in each.</summary>
internal sealed class LinearCandidate() : Candidate("linear", "Regularised linear (ridge)")
{
    // Not 0.1, which curves may choose: where it was offered here too, the search took it and held-out blocks were predicted worse.
    public override IReadOnlyList<Setting> Settings(TrainingOptions options) =>
        [new(Penalty: 1e-2), new(Penalty: 1e-3), new(Penalty: 1e-4)];

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        double[][] terms = [.. Enumerable.Range(0, table.Count)
            .Select(r => Array.ConvertAll(table.FeaturesOf(r).ToArray(), x => (double)x))];
        RidgeRegression ridge = RidgeRegression.Fit(terms, table.Targets, table.Weights, setting.Penalty);
        return FittedModel.Of(new LinesFormula(ridge.Slopes, ridge.Intercept));
    }
}
