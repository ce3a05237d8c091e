namespace DecayAtlas.Prediction.Understanding;

/// <summary>What the prediction is in each class, all else being what it is.</summary>
/// <remarks>Partial dependence (Friedman 2001, Annals of Statistics 29:1189-1232): every training row is predicted as if it were of the
/// class. Classes have no order along which effects could be added up, so rows are moved to classes that may not occur beside their other
/// covariates. The mean over the training rows is 0.</remarks>
internal static class ClassEffects
{
    public static CovariateEffect Of(CovariateInfo covariate, int index, CovariateTable table, RatePredictor model)
    {
        CovariateClasses classes = covariate.Classes!;
        double[] effects = new double[classes.Names.Count];
        int[] rows = new int[effects.Length];
        float[] row = new float[table.FeatureCount];
        for (int r = 0; r < table.Count; r++)
        {
            rows[(int)table.Rows[r].Covariates[index]]++;
            table.FeaturesOf(r).CopyTo(row);
            for (int k = 0; k < effects.Length; k++)
            {
                table.Coding.Put(index, k, row);
                effects[k] += model.Predict(row) / table.Count;
            }
        }

        double centre = effects.Zip(rows, (e, n) => e * n / table.Count).Sum();
        return new(covariate.Name, [.. Enumerable.Range(0, effects.Length).Select(k => (double)k)], [.. effects.Select(e => e - centre)])
        {
            Classes = classes.Names,
        };
    }
}
