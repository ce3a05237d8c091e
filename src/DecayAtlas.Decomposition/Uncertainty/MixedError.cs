using MathNet.Numerics;
using MathNet.Numerics.RootFinding;

namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>
/// An error that is the sum of a normal one and of rectangular ones, of mean 0: how likely it is beyond a value. Water of which only a
/// range is known can be most of an error, and 1.96 standard uncertainties of a rectangle hold all of it, not 95 %.
/// </summary>
/// <remarks>The two widest rectangles are taken as they are, further and small ones as normal: with U the rectangles of half widths a
/// and b, P = E Φ((U - x)/σ), which integrates to second differences of Ψ(u) = ∫∫ Φ(u/σ) (JCGM 101:2008, 5.2, in closed form).</remarks>
internal readonly record struct MixedError
{
    // a rectangle that makes less than this share of the standard deviation moves the 95 % limits by less than 0.001 of it
    private const double LeastShare = 0.25;

    private readonly double _sd, _wide, _narrow;

    private MixedError(double sd, double wide, double narrow) => (_sd, _wide, _narrow) = (sd, wide, narrow);

    /// <param name="variance">Of the whole, rectangles and all.</param>
    /// <param name="rangeSds">Standard deviations of the rectangles, of either sign.</param>
    public static MixedError Of(double variance, params ReadOnlySpan<double> rangeSds)
    {
        double first = 0, second = 0, least = LeastShare * Math.Sqrt(variance);
        foreach (double signed in rangeSds)
        {
            double sd = Math.Abs(signed);
            if (sd > least && sd > second)
                (first, second) = sd > first ? (sd, first) : (first, sd);
        }

        // all error in two rectangles leaves none that is normal; a trace keeps the formula whole
        double rest = Math.Max(variance - first * first - second * second, 1e-9 * variance);
        return new MixedError(Math.Sqrt(rest), Math.Sqrt(3) * first, Math.Sqrt(3) * second);
    }

    /// <summary>Probability of an error above <paramref name="x"/>.</summary>
    public double Beyond(double x)
    {
        if (!(_sd > 0))
            return x < 0 ? 1 : x > 0 ? 0 : 0.5;
        if (_wide == 0)
            return Normal(-x / _sd);
        if (_narrow == 0)
            return (Once(_wide - x) - Once(-_wide - x)) / (2 * _wide);
        double sum = _wide + _narrow, difference = _wide - _narrow;
        return (Twice(sum - x) - Twice(difference - x) - Twice(-difference - x) + Twice(-sum - x)) / (4 * _wide * _narrow);
    }

    /// <summary>What an error stays within, to either side, with probability 1 - 2 <paramref name="tail"/>.</summary>
    public double HalfWidth(double tail)
    {
        MixedError self = this;
        double most = 10 * _sd + _wide + _narrow;
        return most > 0 ? Brent.FindRoot(x => self.Beyond(x) - tail, 0, most, 1e-14 * most) : 0;
    }

    private static double Normal(double z) => 0.5 * SpecialFunctions.Erfc(-z / Math.Sqrt(2));

    private static double Density(double z) => Math.Exp(-0.5 * z * z) / Math.Sqrt(2 * Math.PI);

    private double Once(double u)
    {
        double z = u / _sd;
        return _sd * (z * Normal(z) + Density(z));
    }

    private double Twice(double u)
    {
        double z = u / _sd;
        return 0.5 * _sd * _sd * ((z * z + 1) * Normal(z) + z * Density(z));
    }
}
