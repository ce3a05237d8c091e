using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Curves;

/// <summary>One retrieval in a time series of a litter.</summary>
/// <param name="Days">Days since burial (d, &gt; 0).</param>
/// <param name="Weight">Weight in the fit, 1/variance up to a factor (&gt; 0).</param>
public readonly record struct CurvePoint(double Days, double RemainingFraction, double Weight = 1);

/// <summary>The decay curves offered; w(0) = 1 in each.</summary>
public enum CurveForm
{
    /// <summary><c>w = exp(-k t)</c> (Olson 1963, Ecology 44:322-331).</summary>
    SingleExponential,

    /// <summary><c>w = r + (1 - r) exp(-k t)</c>, r the share that does not decay on this time scale (Berg and Ekbohm 1991, Canadian J.
    /// Botany 69:1449-1456, from memory).</summary>
    Asymptotic,

    /// <summary><c>w = p exp(-k1 t) + (1 - p) exp(-k2 t)</c>, k1 ≥ k2 (Lousier and Parkinson 1976, Canadian J. Botany 54:419-436, from
    /// memory).</summary>
    DoubleExponential,
}

/// <summary>One fitted parameter: a rate (1/d) or a share (1).</summary>
/// <param name="Name">Its letter in the equation.</param>
/// <param name="StandardError">Asymptotic; missing on a bound.</param>
/// <param name="Lower95">Profile-likelihood interval; its ends are missing where the data set none.</param>
/// <param name="AtBound">Whether the estimate stands on the edge of what is possible.</param>
public sealed record FittedParameter(
    string Name, double Value, double? StandardError, double? Lower95, double? Upper95, bool AtBound);

/// <summary>A fitted decay curve.</summary>
/// <param name="DegreesOfFreedom">n less the free parameters.</param>
/// <param name="Aicc">Second-order information criterion; missing where n is too small for it or the fit leaves no residual.</param>
/// <param name="Residuals">Observed minus fitted, in the order of the points.</param>
public sealed record CurveFit(
    CurveForm Form, IReadOnlyList<FittedParameter> Parameters, double ResidualSd, int DegreesOfFreedom, double? Aicc,
    IReadOnlyList<double> Residuals)
{
    internal double[,] Covariance { get; init; } = new double[0, 0];

    public double RemainingAt(double days) => DecayCurve.Remaining(Form, days, [.. Parameters.Select(p => p.Value)], stackalloc double[3]);

    /// <summary>Pointwise 95 % band of the curve: <c>w ± t(0.975, n - p) √(gᵀ C g)</c>, g the derivatives (Bates and Watts 1988,
    /// 2.3.2).</summary>
    public (double Lower, double Upper) BandAt(double days)
    {
        int p = Parameters.Count;
        Span<double> g = stackalloc double[3];
        double w = DecayCurve.Remaining(Form, days, [.. Parameters.Select(x => x.Value)], g);
        double variance = 0;
        for (int a = 0; a < p; a++)
        {
            for (int b = 0; b < p; b++)
                variance += g[a] * Covariance[a, b] * g[b];
        }

        double half = StudentT.InvCDF(0, 1, DegreesOfFreedom, 0.975) * Math.Sqrt(Math.Max(variance, 0));
        return (w - half, w + half);
    }
}
