namespace DecayAtlas.Prediction;

/// <summary>Ridge regression on the covariates: a straight line in each.</summary>
internal sealed class LinearCandidate() : Candidate("linear", "Regularised linear (ridge)")
{
    // Half the terms of curves need no penalty of 0.1: a search that could choose it did, and was worse for it at held-out blocks.
    public override IReadOnlyList<Setting> Settings(TrainingOptions options) => [.. RidgeRegression.Settings.Skip(1)];

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        double[][] terms = [.. Enumerable.Range(0, table.Count).Select(r => table.FeaturesOf(r).ToArray().Select(x => (double)x).ToArray())];
        var ridge = RidgeRegression.Fit(terms, table.Targets, table.Weights, setting.Penalty);
        var formula = new LinesFormula(ridge.Slopes, ridge.Intercept);
        return new(new FormulaPredictor(formula), () => SavedPredictor.Of(formula));
    }
}
