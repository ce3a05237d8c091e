namespace DecayAtlas.Prediction.Candidates;

/// <summary>
/// Ridge regression on covariates and their squares, all standardised: each number can have an optimum, each class a step. Products are
/// left out: at held-out blocks they cost more than they brought.
/// </summary>
/// <remarks>Beyond the training rows a square runs away faster than a line; the area of applicability is there to say so.</remarks>
internal sealed class CurvedCandidate() : Candidate("curved", "Regularised curves of second degree (ridge)")
{
    public override IReadOnlyList<Setting> Settings(TrainingOptions options) =>
        [new(Penalty: 0.1), new(Penalty: 1e-2), new(Penalty: 1e-3), new(Penalty: 1e-4)];

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        StandardisedCurves curves = StandardisedCurves.Of(table);
        RidgeRegression ridge = RidgeRegression.Fit(curves.TermsOf(table), table.Targets, table.Weights, setting.Penalty);
        return FittedModel.Of(new CurvesFormula(curves.Means, curves.Scales, ridge.Slopes, ridge.Intercept));
    }
}
