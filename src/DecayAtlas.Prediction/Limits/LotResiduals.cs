using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Prediction.Limits;

/// <summary>
/// Residuals of held-out rows without what the errors of their lots show in them: a model stands between its lots, so that rows of one
/// lie above it and rows of another below.
/// </summary>
/// <remarks>
/// Errors of lots are predicted as random effects of standard deviation 1 with the known effect of each on each row (best linear unbiased
/// prediction, Henderson 1975, from memory). What all rows share stands in the model, and not in the residuals.
/// </remarks>
internal static class LotResiduals
{
    public static double[] Without(CovariateTable table, IReadOnlyList<double> residuals)
    {
        string[] lots = [.. table.Rows.SelectMany(r => r.Errors.Shared).Where(s => !s.IsOfBatch).Select(s => s.Quantity)
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        if (lots.Length == 0)
            return [.. residuals];
        Matrix<double> effects = Matrix<double>.Build.Dense(table.Count, lots.Length);
        for (int row = 0; row < table.Count; row++)
        {
            foreach (SharedError error in table.Rows[row].Errors.Shared.Where(s => !s.IsOfBatch))
                effects[row, Array.BinarySearch(lots, error.Quantity, StringComparer.Ordinal)] += error.OnTarget;
        }

        Vector<double> shown = Vector<double>.Build.DenseOfEnumerable(residuals);
        double variance = shown.DotProduct(shown) / table.Count;
        if (!(variance > 0))
            return [.. residuals];
        Matrix<double> normal = effects.TransposeThisAndMultiply(effects) / variance + Matrix<double>.Build.DenseIdentity(lots.Length);
        Vector<double> errors = normal.Cholesky().Solve(effects.TransposeThisAndMultiply(shown) / variance);
        return [.. shown - effects * errors];
    }
}
