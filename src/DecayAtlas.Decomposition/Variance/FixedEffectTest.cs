using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>A linear combination of fixed effects with its interval.</summary>
/// <param name="DegreesOfFreedom">Satterthwaite's; 0 where the likelihood gives none.</param>
/// <param name="Lower95">95 % interval; missing with less than one degree of freedom, when none is of use.</param>
/// <param name="PValue">Two-sided, under no effect; missing likewise, and for a mean, where no effect is no question.</param>
public sealed record FixedEffect(
    double Value, double StandardError, double DegreesOfFreedom, double? Lower95, double? Upper95, double? PValue)
{
    /// <summary>Student's t with the degrees of freedom given.</summary>
    internal static FixedEffect Of(double estimate, double error, double df)
    {
        // a little under 1, since two units give 1 up to the error of a numerical derivative
        if (!(df > 0.95))
            return new FixedEffect(estimate, error, df > 0 ? df : 0, null, null, null);
        double usable = Math.Min(df, 1e5), half = StudentT.InvCDF(0, 1, usable, 0.975) * error;
        double p = 2 * StudentT.CDF(0, 1, usable, -Math.Abs(estimate / error));
        return new FixedEffect(estimate, error, df, estimate - half, estimate + half, p);
    }

    /// <summary>With no more degrees of freedom than so many.</summary>
    public FixedEffect WithAtMost(double degreesOfFreedom) => Of(Value, StandardError, Math.Min(DegreesOfFreedom, degreesOfFreedom));

    internal FixedEffect AsMean(double centre) =>
        this with { Value = Value + centre, Lower95 = Lower95 + centre, Upper95 = Upper95 + centre, PValue = null };
}

/// <summary>
/// Standard errors and Satterthwaite degrees of freedom of fixed effects:
/// <c>df = 2 v²/(gᵀ C g)</c>, v = cᵀ cov(β) c, g its derivatives in the variance parameters, C twice the inverse Hessian of -2 l.
/// </summary>
/// <remarks>
/// Source: Satterthwaite 1946, Biometrics Bulletin 2:110-114; Giesbrecht and Burns 1985, Biometrics 41:477-486; Kuznetsova, Brockhoff and
/// Christensen 2017, J. Statistical Software 82(13). Variances estimated at zero are taken as zero.
/// </remarks>
internal sealed class FixedEffectTest
{
    private readonly RestrictedLikelihood _fit;
    private readonly int[] _free;
    private readonly Matrix<double> _covariance;     // of the free ratios and σ²

    public FixedEffectTest(NestedDesign design, RestrictedLikelihood fit)
    {
        _fit = fit;
        _free = [.. Enumerable.Range(0, fit.Ratios.Length).Where(j => fit.Ratios[j] > 0)];
        double s = fit.ResidualVariance;
        int df = design.Observations - design.FixedEffects, m = _free.Length;
        // F(λ, s) = L(λ) + (n - p) log s + r²(λ)/s
        Matrix<double> inRatios = m == 0
            ? Matrix<double>.Build.Dense(1, 1)
            : NonNegativeNewton.Hessian(
                r =>
                {
                    RestrictedLikelihood l = new(design, r);
                    return (0, [.. Enumerable.Range(0, r.Length).Select(j => l.DeterminantSlopes[j] + l.ResidualSlopes[j] / s)]);
                },
                fit.Ratios, _free);
        Matrix<double> hessian = Matrix<double>.Build.Dense(m + 1, m + 1, (i, j) =>
            i < m && j < m ? inRatios[i, j]
            : i == m && j == m ? df / (s * s)
            : -fit.ResidualSlopes[_free[Math.Min(i, j)]] / (s * s));
        _covariance = 2 * hessian.Inverse();
    }

    public FixedEffect Of(IReadOnlyList<double> contrast)
    {
        Vector<double> c = Vector<double>.Build.DenseOfEnumerable(contrast);
        double estimate = c.DotProduct(Vector<double>.Build.Dense(_fit.Effects));
        Vector<double> mc = _fit.Unscaled * c;
        double s = _fit.ResidualVariance, unit = c.DotProduct(mc), variance = s * unit;
        Vector<double> gradient = Vector<double>.Build.Dense(_free.Length + 1, i =>
            i < _free.Length ? -s * mc.DotProduct(_fit.InformationSlopes[_free[i]] * mc) : unit);
        double df = 2 * variance * variance / gradient.DotProduct(_covariance * gradient);
        return FixedEffect.Of(estimate, Math.Sqrt(variance), df);
    }
}
