namespace DecayAtlas.Prediction.Candidates;

/// <summary>Features and their squares, standardised by the weighted means and scales of one table.</summary>
internal sealed record StandardisedCurves(double[] Means, double[] Scales)
{
    public static StandardisedCurves Of(CovariateTable table)
    {
        double total = table.Weights.Sum();
        (double Mean, double Scale)[] features = [.. Enumerable.Range(0, table.FeatureCount)
            .Select(c => RidgeRegression.Moments(r => table.FeaturesOf(r)[c], table.Weights, total))];
        return new([.. features.Select(m => m.Mean)], [.. features.Select(m => m.Scale)]);
    }

    /// <summary>One array a row: the features, then their squares, those of classes 0.</summary>
    public double[][] TermsOf(CovariateTable table)
    {
        double[][] terms = new double[table.Count][];
        double[] z = new double[Means.Length];
        for (int r = 0; r < terms.Length; r++)
        {
            ReadOnlySpan<float> features = table.FeaturesOf(r);
            for (int c = 0; c < z.Length; c++)
                z[c] = (features[c] - Means[c]) * Scales[c];
            terms[r] = new double[2 * z.Length];
            CurvesFormula.Expand(z, terms[r]);
            table.Coding.NoSquares(terms[r]);
        }
        return terms;
    }
}
