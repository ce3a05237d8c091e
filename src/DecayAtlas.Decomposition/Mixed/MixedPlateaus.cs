using MathNet.Numerics;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>
/// Values known only to be at least something, each replaced by a value with an error that say nearly the same to the model: together
/// with what all other records foretell, they have the mean and variance of what is foretold, cut off below.
/// </summary>
/// <remarks>Expectation propagation: Minka 2001, Uncertainty in Artificial Intelligence 17:362-369; for regions cut from a normal
/// distribution Cunningham, Hennig and Lacoste-Julien 2011, arXiv:1111.6832 (both from memory). Where the replacements stand still, the
/// derivatives of -2 l in the variances are those with the replacements held, so that the fit of them is the fit of all.</remarks>
internal sealed class MixedPlateaus
{
    // in parts of what is foretold
    private const double Still = 1e-6, StillWithin = 1e-8, LeastPrecision = 1e-6;

    // of -2 l
    private const double LeastGain = 1e-6;

    private const int MostRounds = 60, MostPasses = 200, DampAfter = 20;

    private readonly MixedDesign _known;
    private readonly int[] _places;
    private readonly Replacement[] _replacements;

    public MixedPlateaus(MixedDesign design)
    {
        _known = design;
        _places = [.. Enumerable.Range(0, design.Records.Length).Where(i => design.Records[i].FirstIsAtLeast)];
        // half a standard deviation of all values above, give or take one: where to start is of no account
        _replacements = [.. _places.Select(i => new Replacement(Bound(i) + 0.5, 1))];
        Design = Replaced();
    }

    /// <summary>With the replacements.</summary>
    public MixedDesign Design { get; private set; }

    /// <summary>What -2 l has besides that of the replacements.</summary>
    public double Deviance { get; private set; }

    /// <summary>The fit at which the replacements stand still; missing where they do not come to stand.</summary>
    public MixedLikelihood? Settled(MixedParameters parameters, MixedLikelihood fit)
    {
        if (_places.Length == 0)
            return fit;
        for (int round = 0; round < MostRounds; round++)
        {
            if (Stand(fit) is not { } moved)
                return null;
            MixedLikelihood here = new(Design, fit.Loadings);
            if (moved < Still)
            {
                // variances at zero were held there, and are tried anew at the end
                OutcomeCovariance[] near =
                    [.. Enumerable.Range(0, parameters.Blocks).Select(b => MixedParameters.CovarianceOf(fit.Loadings, b))];
                if (MixedSearch.Minimise(Design, parameters, near) is not { } tried || tried.Criterion > here.Criterion - LeastGain)
                    return here;
                fit = tried;
                continue;
            }

            // from where it stands, so that what the values hardly tell is not moved
            double[] numbers = parameters.NumbersOf(fit.Loadings);
            if (MixedSearch.Minimise(Design, parameters, new FreeNumbers(parameters, numbers), numbers) is not { } next)
                return null;
            fit = next;
        }

        return null;
    }

    /// <summary>Where the replacements stand still at the variances given; missing where they do not.</summary>
    public MixedLikelihood? Standing(MixedLikelihood at) =>
        _places.Length == 0 ? at : Stand(at) is null ? null : new MixedLikelihood(Design, at.Loadings);

    /// <summary>Moves the replacements until they stand; the most that one moved at first.</summary>
    private double? Stand(MixedLikelihood at)
    {
        double moved = Pass(at, 1), within = moved;
        for (int pass = 1; within > StillWithin; pass++)
        {
            if (pass == MostPasses || !double.IsFinite(within))
                return null;
            within = Pass(new MixedLikelihood(Design, at.Loadings), pass < DampAfter ? 1 : 0.5);
        }

        return moved;
    }

    /// <summary>Sets all replacements anew; the most that one moved.</summary>
    private double Pass(MixedLikelihood likelihood, double share)
    {
        double most = 0;
        Deviance = 0;
        for (int j = 0; j < _places.Length; j++)
        {
            Replacement old = _replacements[j];
            (double precision, double weighted) = likelihood.First(_places[j]);
            // what all others foretell of the value itself
            double variance = 1 / precision - old.Variance, sd = Math.Sqrt(variance), mean = old.Value - weighted / precision;
            double z = (mean - Bound(_places[j])) / sd, ratio = Ratio(z), drawn = Math.Max(ratio * (ratio + z), LeastPrecision);
            // natural parameters of the replacement about that mean, in units of that error
            double tight = drawn / (1 - drawn), shift = tight / (ratio + z);
            double oldTight = variance / old.Variance, oldShift = oldTight * (old.Value - mean) / sd;
            most = Math.Max(most, Math.Abs(tight - oldTight) + Math.Abs(shift - oldShift));
            if (double.IsNaN(tight + shift + oldTight))
                return double.NaN;
            double newTight = oldTight + share * (tight - oldTight), newShift = oldShift + share * (shift - oldShift);
            Replacement replacement = _replacements[j] = new Replacement(mean + sd * newShift / newTight, variance / newTight);
            double sum = variance + replacement.Variance, apart = replacement.Value - mean;
            Deviance -= 2 * LogProbability(z, ratio) + Math.Log(2 * Math.PI * sum) + apart * apart / sum;
        }

        Design = Replaced();
        return most;
    }

    private double Bound(int record) => _known.Records[record].First!.Value / _known.Scale[0];

    private MixedDesign Replaced()
    {
        if (_places.Length == 0)
            return _known;
        MixedRecord[] records = [.. _known.Records];
        double scale = _known.Scale[0];
        for (int j = 0; j < _places.Length; j++)
        {
            MixedRecord r = records[_places[j]];
            (double value, double variance) = _replacements[j];
            records[_places[j]] = r with
            {
                First = scale * value,
                Error = r.Error with { First = r.Error.First + scale * scale * variance },
            };
        }

        return _known.With(records);
    }

    /// <summary>φ(z)/Φ(z); far below by its expansion, where both vanish.</summary>
    private static double Ratio(double z)
    {
        double square = 1 / (z * z);
        return z < -12 ? -z / (1 - square * (1 - square * (3 - square * (15 - square * 105))))
            : Math.Exp(-0.5 * z * z) / (Math.Sqrt(0.5 * Math.PI) * SpecialFunctions.Erfc(-z / Math.Sqrt(2)));
    }

    private static double LogProbability(double z, double ratio) => z < -12
        ? -0.5 * z * z - 0.5 * Math.Log(2 * Math.PI) - Math.Log(ratio)
        : Math.Log(0.5 * SpecialFunctions.Erfc(-z / Math.Sqrt(2)));

    /// <summary>Of a scaled value.</summary>
    private readonly record struct Replacement(double Value, double Variance);
}
