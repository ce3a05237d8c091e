using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;

namespace DecayAtlas.Decomposition.Curves;

/// <summary>
/// Intervals from the profile of the residual sum of squares: the values θ at which, all other parameters fitted anew,
/// <c>(S(θ) - S_min)/s² = t²(0.975, n - p)</c>. They need not be symmetric, and are open where the data set no limit.
/// </summary>
/// <remarks>Source: Bates and Watts 1988, Nonlinear Regression Analysis and its Applications, 6.1.2 (profile t).</remarks>
internal static class ProfileLikelihood
{
    /// <summary>An end is missing where it lies beyond the bounds or does not exist.</summary>
    public static (double? Lower, double? Upper) Interval95(
        IRegression model, IReadOnlyList<double> observed, IReadOnlyList<double>? weights, SearchBox box, LeastSquaresFit fit,
        int parameter)
    {
        double variance = fit.ResidualSumOfSquares / fit.DegreesOfFreedom;
        if (!(variance > 0))
            return (fit.Parameters[parameter], fit.Parameters[parameter]);
        double target = Math.Pow(StudentT.InvCDF(0, 1, fit.DegreesOfFreedom, 0.975), 2) * variance;
        bool[] held = new bool[model.Parameters];
        held[parameter] = true;
        double centre = fit.Parameters[parameter];
        double first = fit.StandardErrors[parameter] is { } se and > 0 ? se : 0.01 * Math.Max(Math.Abs(centre), 0.01);
        return (End(-1), End(+1));

        double? End(int direction)
        {
            double[] warm = fit.Parameters;
            double limit = direction < 0 ? box.Lower[parameter] : box.Upper[parameter];
            if (limit == centre)
                return null;
            double inside = centre, width = first;
            for (int i = 0; i < 60; i++, width *= 1.6)
            {
                double outside = direction < 0 ? Math.Max(limit, centre - width) : Math.Min(limit, centre + width);
                if (Excess(outside) > 0)
                {
                    return Brent.TryFindRoot(Excess, Math.Min(inside, outside), Math.Max(inside, outside),
                        Math.Max(1e-12 * Math.Abs(outside - centre), 1e-300), 200, out double root)
                        ? root : null;
                }

                if (outside == limit)
                    return null;
                inside = outside;
            }

            return null;

            double Excess(double value)
            {
                double[] start = [.. warm];
                start[parameter] = value;
                (double[] refit, double rss) = NonlinearLeastSquares.Minimise(model, observed, weights, box with { Start = start }, held);
                double excess = rss - fit.ResidualSumOfSquares - target;
                if (!(excess < 1e12 * target))
                    return 1e12 * target;
                warm = refit;
                return excess;
            }
        }
    }
}
