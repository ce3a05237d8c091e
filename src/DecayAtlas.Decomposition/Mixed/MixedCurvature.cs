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
    private readonly MixedParameters _parameters;
    private readonly FreeNumbers _map;
    private readonly double[] _at;
    private readonly Matrix<double> _covariance;

    public MixedCurvature(MixedDesign design, MixedLikelihood likelihood)
    {
        _design = design;
        _parameters = new MixedParameters(design);
        double[] numbers = _parameters.NumbersOf(likelihood.Loadings);
        _map = new FreeNumbers(_parameters, numbers);
        _at = _map.Reduce(numbers);
        int m = _at.Length, fixedEffects = design.Outcomes * design.Width;
        double[][] slopes = Slopes(l =>
        {
            double[] gradient = l.Gradient();
            return [.. _map.Free.Select(j => gradient[_parameters.Places[j]]), .. FixedCovariance(design, l).ToColumnMajorArray()];
        });
        Matrix<double> hessian = Matrix<double>.Build.Dense(m, m, (i, j) => (slopes[i][j] + slopes[j][i]) / 2);
        FixedSlopes = [.. slopes.Select(s => Matrix<double>.Build.Dense(fixedEffects, fixedEffects, s[m..]))];
        _covariance = 2 * Inverse(hessian);
    }

    /// <summary>Derivatives of the covariance of β in each free number.</summary>
    public Matrix<double>[] FixedSlopes { get; }

    public static Matrix<double> FixedCovariance(MixedDesign design, MixedLikelihood likelihood) => Matrix<double>.Build.Dense(
        design.Outcomes * design.Width, design.Outcomes * design.Width,
        (i, j) => likelihood.InverseAt(design.FixedStart + i, design.FixedStart + j));

    /// <summary>Satterthwaite's, of a variance with its derivatives in the free numbers; infinite where these are none.</summary>
    public double DegreesOfFreedom(double variance, double[] slopes) => 2 * variance * variance / Quadratic(slopes);

    public double Quadratic(double[] slopes)
    {
        Vector<double> g = Vector<double>.Build.Dense(slopes.Length, j => slopes[j]);
        return slopes.Length == 0 ? 0 : g.DotProduct(_covariance * g);
    }

    /// <summary>Derivatives in each free number of what a likelihood gives.</summary>
    public double[][] Slopes(Func<MixedLikelihood, double[]> of)
    {
        double[][] slopes = new double[_at.Length][];
        // each in its own place, so that the order in which they are done changes nothing
        Parallel.For(0, _at.Length, j =>
        {
            double h = 1e-4 * (Math.Abs(_at[j]) + 1e-3);
            double[] up = Shifted(j, h), down = Shifted(j, -h);
            slopes[j] = [.. up.Select((v, i) => (v - down[i]) / (2 * h))];
        });
        return slopes;

        double[] Shifted(int j, double by)
        {
            double[] at = [.. _at];
            at[j] += by;
            return of(new MixedLikelihood(_design, _parameters.Loadings(_map.Expand(at))));
        }
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
