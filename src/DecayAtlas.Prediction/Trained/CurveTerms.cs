namespace DecayAtlas.Prediction.Trained;

/// <summary>Curves of second degree in the covariates of rows, standardised, as many as the rows bear: what the covariates tell, before
/// any model is chosen.</summary>
internal static class CurveTerms
{
    /// <summary>One array a row: the covariates and their squares, the covariates alone, or nothing where rows are few.</summary>
    public static double[][] Of(CovariateTable table)
    {
        int n = table.Count, width = table.FeatureCount;
        double[] equal = [.. Enumerable.Repeat(1.0, n)];
        (double Mean, double Scale)[] moments =
            [.. Enumerable.Range(0, width).Select(c => RidgeRegression.Moments(r => table.FeaturesOf(r)[c], equal, n))];
        int terms = n > 8 * width ? 2 * width : n > 4 * width ? width : 0;
        return [.. Enumerable.Range(0, n).Select(TermsOf)];

        double[] TermsOf(int row)
        {
            if (terms == 0)
                return [];
            double[] z = [.. moments.Select((m, c) => (table.FeaturesOf(row)[c] - m.Mean) * m.Scale)];
            return terms == width ? z : [.. z, .. z.Select(x => x * x)];
        }
    }
}
