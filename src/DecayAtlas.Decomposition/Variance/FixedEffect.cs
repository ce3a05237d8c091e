using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>A linear combination of fixed effects with its interval.</summary>
/// <param name="DegreesOfFreedom">Kenward and Roger's; 0 where the likelihood gives none.</param>
/// <param name="Lower95">95 % interval; missing with less than one degree of freedom, when none is of use.</param>
/// <param name="PValue">Two-sided, under no effect; missing likewise.</param>
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

    /// <summary>With no more degrees of freedom than so many, and no fewer than others.</summary>
    public FixedEffect WithAtMost(double degreesOfFreedom, double atLeast = 0) =>
        Of(Value, StandardError, Math.Max(atLeast, Math.Min(DegreesOfFreedom, degreesOfFreedom)));
}
