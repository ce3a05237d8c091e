using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>
/// Restricted likelihood (REML) of a nested design at given variance ratios λ_j = σ_j²/σ²:
/// <c>-2 l = log|V| + log|Xᵀ V⁻¹ X| + (n - p)(1 + log(2π r²/(n - p)))</c>, σ² profiled out.
/// </summary>
/// <remarks>Source: Patterson and Thompson 1971, Biometrika 58:545-554; in this profiled form Bates, Mächler, Bolker and Walker 2015, J.
/// Statistical Software 67(1), eq. 42.</remarks>
internal sealed class RestrictedLikelihood
{
    public RestrictedLikelihood(NestedDesign design, double[] ratios)
    {
        NestedSums sums = design.At(ratios);
        int p = design.FixedEffects, width = p + 2;
        Matrix<double> information = Matrix<double>.Build.Dense(p, p, (i, j) => sums.Matrix[(i + 1) * width + j + 1]);
        Vector<double> right = Vector<double>.Build.Dense(p, i => sums.Matrix[(i + 1) * width + p + 1]);
        Cholesky<double> cholesky = information.Cholesky();
        Vector<double> beta = cholesky.Solve(right);
        Ratios = ratios;
        Effects = beta.ToArray();
        Unscaled = cholesky.Solve(Matrix<double>.Build.DenseIdentity(p));
        InformationSlopes = [.. sums.Slopes.Select(s => Matrix<double>.Build.Dense(p, p, (i, j) => s[(i + 1) * width + j + 1]))];

        double residual = sums.Matrix[^1] - beta.DotProduct(right);
        int df = design.Observations - p;
        ResidualVariance = residual / df;
        Criterion = sums.LogDeterminant + cholesky.DeterminantLn + df * (1 + Math.Log(2 * Math.PI * residual / df));

        ResidualSlopes = new double[ratios.Length];
        DeterminantSlopes = new double[ratios.Length];
        Gradient = new double[ratios.Length];
        for (int m = 0; m < ratios.Length; m++)
        {
            Vector<double> rightSlope = Vector<double>.Build.Dense(p, i => sums.Slopes[m][(i + 1) * width + p + 1]);
            ResidualSlopes[m] = sums.Slopes[m][^1] - 2 * beta.DotProduct(rightSlope) + beta.DotProduct(InformationSlopes[m] * beta);
            DeterminantSlopes[m] = sums.LogDeterminantSlopes[m] + (Unscaled * InformationSlopes[m]).Trace();
            Gradient[m] = DeterminantSlopes[m] + df * ResidualSlopes[m] / residual;
        }
    }

    public double[] Ratios { get; }

    /// <summary>Fixed effects β.</summary>
    public double[] Effects { get; }

    /// <summary>(Xᵀ V⁻¹ X)⁻¹; times σ² the covariance of β.</summary>
    public Matrix<double> Unscaled { get; }

    public Matrix<double>[] InformationSlopes { get; }

    /// <summary>σ².</summary>
    public double ResidualVariance { get; }

    /// <summary>-2 l.</summary>
    public double Criterion { get; }

    public double[] Gradient { get; }

    public double[] DeterminantSlopes { get; }

    public double[] ResidualSlopes { get; }

    /// <summary>A ratio beyond which the residual variance is zero for all purposes.</summary>
    private const double LargestRatio = 1e5;

    /// <summary>Minimises -2 l over λ ≥ 0, from several starts.</summary>
    public static Answer<RestrictedLikelihood> Maximise(NestedDesign design)
    {
        if (design.Levels == 0)
            return new RestrictedLikelihood(design, []);
        RestrictedLikelihood? best = null;
        foreach (double start in (double[])[1, 0.05, 20])
        {
            if (NonNegativeNewton.Minimise(r => { RestrictedLikelihood l = new(design, r); return (l.Criterion, l.Gradient); },
                    [.. Enumerable.Repeat(start, design.Levels)]) is not { } found)
            {
                continue;
            }
            // what is left of a variance that the search drives to zero
            for (int j = 0; j < found.Length; j++)
            {
                if (found[j] < 1e-9)
                    found[j] = 0;
            }

            RestrictedLikelihood likelihood = new(design, found);
            if (best is null || likelihood.Criterion < best.Criterion - 1e-9)
                best = likelihood;
        }

        if (best is null || !double.IsFinite(best.Criterion))
            return new Unanswered("The search for the variances did not settle.");
        if (!(best.ResidualVariance > 0) || best.Ratios.Any(r => r > LargestRatio))
            return Unanswered.NoScatter("values within each unit, once the fixed effects are taken off,");
        return IsFlat(design, best)
            ? new Unanswered("The variance between units can't be told from the effects of the groups, since too few units hold more than "
                + "one of them or share one with another.")
            : best;
    }

    // a level whose units follow the fixed effects leaves the likelihood the same whatever its variance
    private static bool IsFlat(NestedDesign design, RestrictedLikelihood fit)
    {
        for (int level = 0; level < design.Levels; level++)
        {
            double[] criteria = [.. new double[] { 0, 1, 100 }.Select(r =>
            {
                double[] ratios = [.. fit.Ratios];
                ratios[level] = r;
                return new RestrictedLikelihood(design, ratios).Criterion;
            })];
            if (criteria.Max() - criteria.Min() < 1e-8)
                return true;
        }

        return false;
    }
}
