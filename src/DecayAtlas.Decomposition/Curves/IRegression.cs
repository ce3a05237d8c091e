namespace DecayAtlas.Decomposition.Curves;

/// <summary>A regression function that is not linear in its parameters, with its exact derivatives.</summary>
public interface IRegression
{
    /// <summary>Number of parameters, p.</summary>
    int Parameters { get; }

    /// <summary>Number of observations, n.</summary>
    int Observations { get; }

    /// <summary>Expected value of observation <paramref name="i"/>; its derivatives go to <paramref name="gradient"/> (length p).</summary>
    double Expect(int i, ReadOnlySpan<double> parameters, Span<double> gradient);
}

/// <summary>Where a search starts and may go.</summary>
/// <param name="Start">Starting values.</param>
/// <param name="Lower">Lower bounds; -∞ for none.</param>
/// <param name="Upper">Upper bounds; +∞ for none.</param>
public sealed record SearchBox(IReadOnlyList<double> Start, IReadOnlyList<double> Lower, IReadOnlyList<double> Upper)
{
    /// <summary>A search without bounds.</summary>
    public static SearchBox Unbounded(params double[] start) => new(
        start,
        [.. start.Select(_ => double.NegativeInfinity)],
        [.. start.Select(_ => double.PositiveInfinity)]);
}

/// <summary>Result of a least-squares search.</summary>
/// <param name="Parameters">Estimates.</param>
/// <param name="StandardErrors">Asymptotic standard errors; missing for a parameter that stands on a bound or was held.</param>
/// <param name="Covariance">s² (JᵀJ)⁻¹; zero rows for parameters on a bound or held.</param>
/// <param name="AtBound">Which parameters stand on a bound.</param>
/// <param name="ResidualSumOfSquares">Weighted residual sum of squares.</param>
/// <param name="DegreesOfFreedom">n - p, p counting the parameters that were free to move.</param>
public sealed record LeastSquaresFit(
    double[] Parameters, double?[] StandardErrors, double[,] Covariance, bool[] AtBound, double ResidualSumOfSquares, int DegreesOfFreedom)
{
    /// <summary>Residual standard deviation s.</summary>
    public double ResidualSd => Math.Sqrt(ResidualSumOfSquares / DegreesOfFreedom);
}
