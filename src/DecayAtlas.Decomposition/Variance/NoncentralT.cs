using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>The noncentral t distribution, which Math.NET does not hold.</summary>
internal static class NoncentralT
{
    // 64 panels of 5 nodes each (Gauss-Legendre, order 5; Abramowitz and Stegun, table 25.4)
    private static readonly double[] Nodes = [-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831, 0.9061798459386640];
    private static readonly double[] Weights = [0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665,
        0.2369268850561891];

    /// <summary>
    /// P(T ≤ t) with <c>T = (Z + δ)/√(X/ν)</c>, X chi-square of ν degrees of freedom: <c>∫ Φ(t s - δ) f(s) ds</c>, f the density of
    /// <c>s = √(X/ν)</c> (Johnson, Kotz and Balakrishnan 1995, Continuous Univariate Distributions 2, chapter 31).
    /// </summary>
    public static double Cdf(double t, double df, double delta)
    {
        double sd = 1 / Math.Sqrt(2 * df), lower = Math.Max(0, 1 - 12 * sd), upper = 1 + 14 * sd + 4 / df;
        double logConstant = Math.Log(2) + df / 2 * Math.Log(df / 2) - SpecialFunctions.GammaLn(df / 2);
        const int panels = 64;
        double width = (upper - lower) / panels, sum = 0;
        for (int i = 0; i < panels; i++)
        {
            for (int j = 0; j < Nodes.Length; j++)
            {
                double s = lower + (i + (Nodes[j] + 1) / 2) * width;
                double density = Math.Exp(logConstant + (df - 1) * Math.Log(s) - df * s * s / 2);
                sum += Weights[j] / 2 * width * density * Normal.CDF(0, 1, t * s - delta);
            }
        }

        return sum;
    }

    /// <summary>The t of a probability, to nine digits of it.</summary>
    /// <param name="delta">0 or more.</param>
    public static double Quantile(double probability, double df, double delta)
    {
        double upper = delta + 1;
        while (Cdf(upper, df, delta) < probability)
            upper *= 2;
        double lower = -1;
        while (Cdf(lower, df, delta) > probability)
            lower *= 2;
        return Brent.FindRoot(t => Cdf(t, df, delta) - probability, lower, upper, 1e-9 * upper, 200);
    }
}
