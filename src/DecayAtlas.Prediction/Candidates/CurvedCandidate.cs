using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Prediction;

/// <summary>
/// Ridge regression on covariates and their squares, all standardised: each covariate can have an optimum. Products are left
/// out: at held-out blocks they cost more than they brought. Source: Hoerl and Kennard 1970, Technometrics 12:55-67; solved by Cholesky.
/// </summary>
/// <remarks>Beyond the training rows a square runs away faster than a line; the area of applicability is there to say so.</remarks>
internal sealed class CurvedCandidate() : Candidate("curved", "Regularised curves of second degree (ridge)")
{
    public override IReadOnlyList<Setting> Settings(TrainingOptions options) =>
        [new(Penalty: 0.1), new(Penalty: 1e-2), new(Penalty: 1e-3), new(Penalty: 1e-4)];

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        int n = table.Count, width = table.FeatureCount, terms = 2 * width;
        double total = table.Weights.Sum();
        double[] means = new double[width], scales = new double[width];
        for (int c = 0; c < width; c++)
            (means[c], scales[c]) = Moments(r => table.FeaturesOf(r)[c], table.Weights, total);

        var expanded = new double[n][];
        for (int r = 0; r < n; r++)
        {
            var z = new double[width];
            for (int c = 0; c < width; c++)
                z[c] = (table.FeaturesOf(r)[c] - means[c]) * scales[c];
            expanded[r] = new double[terms];
            CurvesFormula.Expand(z, expanded[r]);
        }
        double[] termMeans = new double[terms], termScales = new double[terms];
        for (int t = 0; t < terms; t++)
            (termMeans[t], termScales[t]) = Moments(r => expanded[r][t], table.Weights, total);

        var normal = Matrix<double>.Build.Dense(terms, terms);
        var right = Vector<double>.Build.Dense(terms);
        double mean = Enumerable.Range(0, n).Sum(r => table.Weights[r] * table.Targets[r]) / total;
        for (int r = 0; r < n; r++)
        {
            double share = table.Weights[r] / total;
            for (int a = 0; a < terms; a++)
            {
                double x = (expanded[r][a] - termMeans[a]) * termScales[a];
                right[a] += share * x * (table.Targets[r] - mean);
                for (int b = 0; b <= a; b++)
                    normal[a, b] += share * x * (expanded[r][b] - termMeans[b]) * termScales[b];
            }
        }
        for (int a = 0; a < terms; a++)
        {
            normal[a, a] += setting.Penalty;
            for (int b = 0; b < a; b++)
                normal[b, a] = normal[a, b];
        }
        double[] slopes = [.. normal.Cholesky().Solve(right).Zip(termScales, (b, s) => b * s)];
        double intercept = mean - slopes.Zip(termMeans, (b, m) => b * m).Sum();
        var formula = new CurvesFormula(means, scales, slopes, intercept);
        return new(new FormulaPredictor(formula), () => SavedPredictor.Of(formula));
    }

    /// <summary>Weighted mean and 1/standard deviation; the latter 0 for a term that does not vary.</summary>
    private static (double Mean, double Scale) Moments(Func<int, double> value, double[] weights, double total)
    {
        double mean = 0, squares = 0;
        for (int r = 0; r < weights.Length; r++)
            mean += weights[r] / total * value(r);
        for (int r = 0; r < weights.Length; r++)
            squares += weights[r] / total * (value(r) - mean) * (value(r) - mean);
        return (mean, squares > 1e-24 ? 1 / Math.Sqrt(squares) : 0);
    }
}
