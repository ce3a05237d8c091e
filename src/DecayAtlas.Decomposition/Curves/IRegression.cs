namespace DecayAtlas.Decomposition.Curves;

/// <summary>A regression function that is not linear in its parameters, with its exact derivatives.</summary>
public interface IRegression
{
    int Parameters { get; }

    int Observations { get; }

    /// <summary>Expected value of observation <paramref name="i"/>; its derivatives go to <paramref name="gradient"/> (length p).</summary>
    double Expect(int i, ReadOnlySpan<double> parameters, Span<double> gradient);
}

/// <summary>Where a search starts and may go; ±∞ for no bound.</summary>
public sealed record SearchBox(IReadOnlyList<double> Start, IReadOnlyList<double> Lower, IReadOnlyList<double> Upper);

/// <summary>Result of a least-squares search.</summary>
/// <param name="StandardErrors">Asymptotic; missing for a parameter that stands on a bound or was held.</param>
/// <param name="Covariance">s² (JᵀJ)⁻¹; zero rows for parameters on a bound or held.</param>
/// <param name="DegreesOfFreedom">n - p, p counting the parameters that were free to move.</param>
public sealed record LeastSquaresFit(
    double[] Parameters, double?[] StandardErrors, double[,] Covariance, bool[] AtBound, double ResidualSumOfSquares, int DegreesOfFreedom)
{
    public double ResidualSd => Math.Sqrt(ResidualSumOfSquares / DegreesOfFreedom);
}
