using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>How uncertain the variances are: twice the inverse Hessian of -2 l, from differences of the exact gradient. Variances at zero
/// are taken as zero.</summary>
/// <remarks>Degrees of freedom <c>2 v²/(gᵀ C g)</c>: Satterthwaite 1946, Biometrics Bulletin 2:110-114; Giesbrecht and Burns 1985,
/// Biometrics 41:477-486.</remarks>
internal sealed class MixedCurvature
{
    private readonly MixedDesign _design;
    private readonly MixedLikelihood _likelihood;
    private readonly MixedParameters _parameters;
    private readonly FreeNumbers _map;
    private readonly double[] _at;
    private readonly Matrix<double> _covariance;

    /// <param name="like">Of nearly the same records by the same factors: what the variances are uncertain by is taken from
    /// there.</param>
    public MixedCurvature(MixedDesign design, MixedLikelihood likelihood, MixedCurvature? like = null)
    {
        _design = design;
        _parameters = new MixedParameters(design);
        double[] numbers = _parameters.NumbersOf(likelihood.Loadings);
        _map = new FreeNumbers(_parameters, numbers);
        _at = _map.Reduce(numbers);
        // the search may have come to the same covariances by numbers of other signs
        double[] loadings = _parameters.Loadings(numbers);
        _likelihood = loadings.SequenceEqual(likelihood.Loadings) ? likelihood : new MixedLikelihood(design, loadings);
        int m = _at.Length;
        if (like is not null && like._at.Length == m)
        {
            double[] scale = [.. _map.Free.Select(j => _parameters.Places[j] % 4 / 2).Select(o => like._design.Scale[o] / design.Scale[o])];
            _covariance = like._covariance.MapIndexed((i, j, c) => c * scale[i] * scale[j]);
            return;
        }

        double[][] slopes = Slopes(l =>
        {
            double[] gradient = l.Gradient();
            return [.. _map.Free.Select(j => gradient[_parameters.Places[j]])];
        });
        _covariance = 2 * Inverse(Matrix<double>.Build.Dense(m, m, (i, j) => (slopes[i][j] + slopes[j][i]) / 2));
    }

    /// <summary>Satterthwaite's, of a variance with its derivatives in the free numbers; infinite where these are none.</summary>
    public double DegreesOfFreedom(double variance, double[] slopes) => 2 * variance * variance / Quadratic(slopes);

    public double Quadratic(double[] slopes)
    {
        Vector<double> g = Vector<double>.Build.Dense(slopes.Length, j => slopes[j]);
        return slopes.Length == 0 ? 0 : g.DotProduct(_covariance * g);
    }

    /// <summary>Of a number that the variances give.</summary>
    public double StandardError(Func<double[], double> ofLoadings)
    {
        double here = ofLoadings(_likelihood.Loadings);
        return Math.Sqrt(Quadratic([.. _at.Select((_, j) =>
        {
            (double[] at, double h) = Moved(j);
            return (ofLoadings(_parameters.Loadings(_map.Expand(at))) - here) / h;
        })]));
    }

    private (double[] At, double By) Moved(int free)
    {
        double h = 1e-5 * (Math.Abs(_at[free]) + 1e-2);
        double[] at = [.. _at];
        at[free] += h;
        return (at, h);
    }

    /// <summary>Derivatives in each free number of what a likelihood gives.</summary>
    public double[][] Slopes(Func<MixedLikelihood, double[]> of)
    {
        double[][] slopes = new double[_at.Length][];
        double[] here = of(_likelihood);
        // each in its own place, so that the order in which they are done changes nothing
        Parallel.For(0, _at.Length, j =>
        {
            (double[] at, double h) = Moved(j);
            double[] up = of(new MixedLikelihood(_design, _parameters.Loadings(_map.Expand(at))));
            slopes[j] = [.. up.Select((v, i) => (v - here[i]) / h)];
        });
        return slopes;
    }

    // a direction in which the likelihood is flat to rounding says nothing, and is left out
    private static Matrix<double> Inverse(Matrix<double> hessian)
    {
        if (hessian.RowCount == 0)
            return hessian;
        Evd<double> eigen = hessian.Evd(Symmetricity.Symmetric);
        double largest = eigen.EigenValues.Max(e => e.Real);
        return eigen.EigenVectors * Matrix<double>.Build.DenseOfDiagonalVector(
            eigen.EigenValues.Map(e => e.Real > 1e-10 * largest ? 1 / e.Real : 0)) * eigen.EigenVectors.Transpose();
    }
}
