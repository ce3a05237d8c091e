using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Prediction.Training;

/// <summary>Two covariates that move together.</summary>
/// <param name="Correlation">Pearson's r over the training rows; where one is a class, the first canonical correlation (Hotelling 1936,
/// Biometrika 28:321-377), which has no sign.</param>
public sealed record CorrelatedPair(string First, string Second, double Correlation);

/// <summary>How well the other covariates foretell one.</summary>
/// <param name="Factor">1/(1 − R²) of its regression on the others; of a class the generalised factor by its degree of freedom (Fox and
/// Monette 1992, Journal of the American Statistical Association 87:178-183), which compares with that of a number. Missing where the
/// others determine it, so that it is beyond all bounds.</param>
public sealed record VarianceInflation(string Covariate, double? Factor);

/// <summary>Whether the effects of covariates can be told apart.</summary>
/// <param name="Inflation">In the order of the covariates.</param>
/// <param name="Pairs">Pairs with |r| above <see cref="Limit"/>, strongest first.</param>
/// <remarks>Source: Marquardt 1970, Technometrics 12:591-612, for the factor; Dormann et al. 2013, Ecography 36:27-46, for the limit of |r|
/// (both from memory).</remarks>
public sealed record Collinearity(IReadOnlyList<VarianceInflation> Inflation, IReadOnlyList<CorrelatedPair> Pairs)
{
    public const double Limit = 0.7;

    internal static Collinearity Of(IReadOnlyList<CovariateInfo> covariates, CovariateTable table)
    {
        // of a class all columns but one, which the others tell; whichever that is changes nothing
        int[][] columns = [.. Enumerable.Range(0, covariates.Count).Select(c => Enumerable.Range(
            table.Coding.ColumnsOf(c).First, table.Coding.FreedomOf(c)).ToArray())];
        int[] kept = [.. columns.SelectMany(c => c)];
        int[][] places = [.. columns.Select(c => c.Select(column => Array.IndexOf(kept, column)).ToArray())];
        Matrix<double> r = Correlation.PearsonMatrix(kept.Select(column => table.Column(column).ToArray()));
        // The blocks of the inverse; a matrix without inverse means that some covariate is a sum of others.
        Evd<double> eigen = r.Evd(Symmetricity.Symmetric);
        List<VarianceInflation> inflation = covariates.Select((c, i) => new VarianceInflation(c.Name, FactorOf(places[i]))).ToList();
        IEnumerable<CorrelatedPair> pairs =
            from a in Enumerable.Range(0, covariates.Count)
            from b in Enumerable.Range(a + 1, covariates.Count - a - 1)
            let together = Together(r, places[a], places[b])
            where Math.Abs(together) > Limit
            orderby Math.Abs(together) descending
            select new CorrelatedPair(covariates[a].Name, covariates[b].Name, together);
        return new(inflation, [.. pairs]);

        double? FactorOf(int[] group)
        {
            Matrix<double> inverse = Matrix<double>.Build.Dense(group.Length, group.Length);
            for (int e = 0; e < kept.Length; e++)
            {
                double value = eigen.EigenValues[e].Real;
                for (int i = 0; i < group.Length; i++)
                {
                    double here = eigen.EigenVectors[group[i], e];
                    if (value <= 1e-10 && here * here > 1e-10)
                        return null;
                    for (int j = 0; j < group.Length; j++)
                        inverse[i, j] += value > 1e-10 ? here * eigen.EigenVectors[group[j], e] / value : 0;
                }
            }

            double generalised = group.Length == 1 ? inverse[0, 0] : Block(r, group, group).Determinant() * inverse.Determinant();
            return Math.Pow(generalised, 1.0 / group.Length);
        }
    }

    /// <summary>r of two numbers; where one is a class, the largest correlation of any weighing of the columns of either.</summary>
    private static double Together(Matrix<double> r, int[] one, int[] other)
    {
        if (one.Length == 1 && other.Length == 1)
            return r[one[0], other[0]];
        Matrix<double> across = Root(r, one).Solve(Block(r, one, other));
        return Math.Min(1, Root(r, other).Solve(across.Transpose()).Svd(false).S[0]);
    }

    private static Matrix<double> Root(Matrix<double> r, int[] group) => Block(r, group, group).Cholesky().Factor;

    private static Matrix<double> Block(Matrix<double> r, int[] rows, int[] columns) =>
        Matrix<double>.Build.Dense(rows.Length, columns.Length, (i, j) => r[rows[i], columns[j]]);
}
