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
        int n = table.Count, width = table.FeatureCount;
        double total = table.Weights.Sum();
        double[] means = new double[width], scales = new double[width];
        for (int c = 0; c < width; c++)
            (means[c], scales[c]) = RidgeRegression.Moments(r => table.FeaturesOf(r)[c], table.Weights, total);

        double[][] terms = new double[n][];
        for (int r = 0; r < n; r++)
        {
            double[] z = new double[width];
            for (int c = 0; c < width; c++)
                z[c] = (table.FeaturesOf(r)[c] - means[c]) * scales[c];
            terms[r] = new double[2 * width];
            CurvesFormula.Expand(z, terms[r]);
            table.Coding.NoSquares(terms[r]);
        }
        RidgeRegression ridge = RidgeRegression.Fit(terms, table.Targets, table.Weights, setting.Penalty);
        return FittedModel.Of(new CurvesFormula(means, scales, ridge.Slopes, ridge.Intercept));
    }
}
