namespace DecayAtlas.Prediction.Trained;

/// <summary>Curves of second degree in the features of rows, standardised, as many as the rows bear: what the covariates tell, before
/// any model is chosen.</summary>
internal static class CurveTerms
{
    /// <summary>One array a row: the features and the squares of those that bend, the features alone, or nothing where rows are
    /// few.</summary>
    public static double[][] Of(CovariateTable table)
    {
        int n = table.Count, width = table.FeatureCount;
        double[] equal = [.. Enumerable.Repeat(1.0, n)];
        (double Mean, double Scale)[] moments =
            [.. Enumerable.Range(0, width).Select(c => RidgeRegression.Moments(r => table.FeaturesOf(r)[c], equal, n))];
        int[] bends = [.. Enumerable.Range(0, width).Where(c => !table.Coding.IsIndicator(c))];
        int straight = Enumerable.Range(0, table.Coding.Covariates).Sum(table.Coding.FreedomOf), bent = straight + bends.Length;
        bool isBent = n > 4 * bent;
        return [.. Enumerable.Range(0, n).Select(TermsOf)];

        double[] TermsOf(int row)
        {
            if (!isBent && n <= 4 * straight)
                return [];
            double[] z = [.. moments.Select((m, c) => (table.FeaturesOf(row)[c] - m.Mean) * m.Scale)];
            return isBent ? [.. z, .. bends.Select(c => z[c] * z[c])] : z;
        }
    }
}
