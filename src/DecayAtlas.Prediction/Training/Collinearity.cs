using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Prediction.Training;

/// <summary>Two covariates that move together.</summary>
/// <param name="Correlation">Pearson's r over the training rows.</param>
public sealed record CorrelatedPair(string First, string Second, double Correlation);

/// <summary>How well the other covariates foretell one.</summary>
/// <param name="Factor">1/(1 − R²) of its regression on the others; missing where they determine it, so that it is beyond all
/// bounds.</param>
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
        int width = covariates.Count;
        Matrix<double> r = Correlation.PearsonMatrix(Enumerable.Range(0, width).Select(c => table.Column(c).ToArray()));
        // The diagonal of the inverse; a matrix without inverse means that some covariate is a sum of others.
        Evd<double> eigen = r.Evd(Symmetricity.Symmetric);
        List<VarianceInflation> inflation = covariates.Select((c, i) => new VarianceInflation(c.Name, FactorOf(i))).ToList();
        IEnumerable<CorrelatedPair> pairs =
            from a in Enumerable.Range(0, width)
            from b in Enumerable.Range(a + 1, width - a - 1)
            where Math.Abs(r[a, b]) > Limit
            orderby Math.Abs(r[a, b]) descending
            select new CorrelatedPair(covariates[a].Name, covariates[b].Name, r[a, b]);
        return new(inflation, [.. pairs]);

        double? FactorOf(int covariate)
        {
            double sum = 0;
            for (int e = 0; e < width; e++)
            {
                double share = eigen.EigenVectors[covariate, e] * eigen.EigenVectors[covariate, e], value = eigen.EigenValues[e].Real;
                if (value <= 1e-10 && share > 1e-10)
                    return null;
                sum += value > 1e-10 ? share / value : 0;
            }
            return sum;
        }
    }
}
