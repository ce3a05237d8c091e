namespace DecayAtlas.Decomposition.Mixed;

/// <summary>Ends of profile-likelihood intervals of variances and their shares, of scaled outcomes.</summary>
internal sealed class MixedProfile(MixedDesign design, MixedLikelihood fit)
{
    // the root of χ²(0.95, 1)
    private const double Normal95 = 1.959963984540054;

    public (double Lower, double Upper)? Variance(int block, int outcome)
    {
        MixedParameters parameters = new(design, outcome);
        int number = Array.IndexOf(parameters.Places, MixedParameters.Place(block, outcome, outcome));
        if (number < 0)
            return null;
        double[] best = parameters.NumbersOf(fit.Loadings);
        (double Lower, double Upper)? ends = Ends(parameters, best[number], sd => Math.Max(1.5 * sd, sd + 0.1), 1e4, sd =>
        {
            double[] held = [.. Opened(parameters, best)];
            held[number] = sd;
            return (new FreeNumbers(parameters, held, number), held);
        });
        return ends is var (lower, upper) ? (lower * lower, upper * upper) : null;
    }

    public (double Lower, double Upper)? Share(int block, int outcome)
    {
        MixedParameters parameters = new(design, outcome);
        int number = Array.IndexOf(parameters.Places, MixedParameters.Place(block, outcome, outcome));
        if (number < 0)
            return null;
        double[] best = parameters.NumbersOf(fit.Loadings);
        double sum = best.Where((_, j) => parameters.Places[j] % 4 == 3 * outcome).Sum(v => v * v);
        double share = best[number] * best[number] / sum;
        // from a share of 1 on the rest would be nothing
        return Ends(parameters, share, s => 1 - (1 - s) / 2, 1 - 1e-6, s =>
            (new ShareNumbers(parameters, block, s / (1 - s)), Opened(parameters, best)));
    }

    /// <summary>By how much -2 l may still fall: a hundred thousandth of where an end lies.</summary>
    private const double Enough = 1e-6;

    /// <summary>A variance at zero would stay there, and one near it nearly, since nothing moves it.</summary>
    private static double[] Opened(MixedParameters parameters, double[] numbers) =>
        [.. numbers.Select((v, j) => MixedParameters.IsDiagonal(parameters.Places[j]) && Math.Abs(v) < 0.05 ? 0.05 : v)];

    private (double Lower, double Upper)? Ends(MixedParameters parameters, double best, Func<double, double> further, double most,
        Func<double, (INumbersMap Map, double[] Start)> at)
    {
        double[]? last = null;
        bool isLost = false;
        double lower = 0, atZero = best > 0 ? Beyond(0) : -1;
        if (atZero > 0)
            lower = Root(0, atZero, best, -Normal95);
        last = null;
        (double inside, double insideValue, double upper) = (best, -Normal95, further(best));
        double upperValue = Beyond(upper);
        while (upperValue < 0)
        {
            (inside, insideValue, upper) = (upper, upperValue, further(upper));
            if (upper >= most)
                return isLost ? null : (lower, most < 1 ? 1 : double.PositiveInfinity);
            upperValue = Beyond(upper);
        }

        upper = Root(inside, insideValue, upper, upperValue);
        return isLost ? null : (lower, upper);

        // false position, the end that stays halved each time (Illinois; Dowell and Jarratt 1971, BIT 11:168-174, from memory)
        double Root(double a, double valueA, double b, double valueB)
        {
            for (int step = 0; step < 60 && Math.Abs(b - a) > 1e-8 * Math.Max(Math.Abs(a), Math.Abs(b)); step++)
            {
                double c = b - valueB * (b - a) / (valueB - valueA), value = Beyond(c);
                if (Math.Abs(value) < 1e-5)
                    return c;
                if (value > 0 == valueB > 0)
                    valueA /= 2;
                else
                    (a, valueA) = (b, valueB);
                (b, valueB) = (c, value);
            }

            return b;
        }

        // the root of what -2 l rises by is nearly straight, so that few steps find where it is 1.96
        double Beyond(double value)
        {
            if (value == best)
                return -Normal95;
            (INumbersMap map, double[] start) = at(value);
            double[] from = last is null ? start : map.Expand(map.Reduce(last));
            MixedLikelihood? there = MixedSearch.Minimise(design, parameters, map, from, Enough);
            if (there is null)
            {
                isLost = true;
                return 1e3;
            }

            last = Opened(parameters, parameters.NumbersOf(there.Loadings));
            return Math.Sqrt(Math.Max(0, there.Criterion - fit.Criterion)) - Normal95;
        }
    }
}
