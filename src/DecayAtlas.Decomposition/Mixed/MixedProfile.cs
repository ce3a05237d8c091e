namespace DecayAtlas.Decomposition.Mixed;

/// <summary>Ends of profile-likelihood intervals of variances and their shares, of scaled outcomes.</summary>
/// <param name="curvature">How uncertain the variances are, for where to look first.</param>
internal sealed class MixedProfile(MixedDesign design, MixedLikelihood fit, Lazy<MixedCurvature> curvature)
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
        double error = best[number] > 0 ? curvature.Value.StandardError(loadings => Math.Sqrt(VarianceOf(loadings, block, outcome))) : 0;
        double first = Math.Max(1.5 * best[number], best[number] + 0.1);
        (double Lower, double Upper)? ends = Ends(parameters, best[number], error, first, 1e4, sd =>
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
        double share = ShareOf(fit.Loadings), error = share > 0 ? curvature.Value.StandardError(ShareOf) : 0;
        // from a share of 1 on the rest would be nothing
        return Ends(parameters, share, error, 1 - (1 - share) / 2, 1 - 1e-6, s =>
            (new ShareNumbers(parameters, block, s / (1 - s)), Opened(parameters, best)));

        double ShareOf(double[] loadings) => VarianceOf(loadings, block, outcome)
            / Enumerable.Range(0, parameters.Blocks).Sum(b => VarianceOf(loadings, b, outcome));
    }

    private static double VarianceOf(double[] loadings, int block, int outcome)
    {
        OutcomeCovariance g = MixedParameters.CovarianceOf(loadings, block);
        return outcome == 0 ? g.First : g.Second;
    }

    /// <summary>By how much -2 l may still fall: a hundred thousandth of where an end lies.</summary>
    private const double Enough = 1e-6;

    /// <summary>How near to its end the root of what -2 l rises by is taken for there: of a half-width of 1.96.</summary>
    private const double Sharp = 1e-5;

    private const int MostSteps = 60;

    /// <summary>A variance at zero would stay there, and one near it nearly, since nothing moves it.</summary>
    private static double[] Opened(MixedParameters parameters, double[] numbers) =>
        [.. numbers.Select((v, j) => MixedParameters.IsDiagonal(parameters.Places[j]) && Math.Abs(v) < 0.05 ? 0.05 : v)];

    private (double Lower, double Upper)? Ends(MixedParameters parameters, double best, double error, double first, double most,
        Func<double, (INumbersMap Map, double[] Start)> at)
    {
        List<(double At, double[] Numbers)> found = [];
        bool isLost = false;
        double lower = best > 0 ? End(0, Math.Max(0, best - Normal95 * error)) ?? 0 : 0;
        found.Clear();
        double upper = End(most, Math.Min(most, best + Normal95 * error)) ?? (most < 1 ? 1 : double.PositiveInfinity);
        return isLost ? null : (lower, upper);

        // outward from a guess, as far as a straight line says and a little more; none where the limit is no end yet
        double? End(double limit, double guess)
        {
            if (limit > 0 && best >= limit)
                return null;
            // a guess on the spot says nothing
            (double inside, double insideValue, double outer) =
                (best, -Normal95, Math.Abs(guess - best) > 1e-6 * Math.Abs(best) ? guess : limit > best ? first : limit);
            for (int step = 0; step < MostSteps; step++)
            {
                double value = Beyond(outer);
                if (value >= 0)
                    return Root(inside, insideValue, outer, value);
                if (outer == limit)
                    return null;
                (inside, insideValue) = (outer, value);
                double far = (outer - best) * Math.Clamp(1.1 * Normal95 / (value + Normal95), 1.1, 3);
                outer = limit > best ? Math.Min(limit, best + far) : Math.Max(limit, best + far);
            }

            isLost = true;
            return null;
        }

        // false position, the end that stays halved each time (Illinois; Dowell and Jarratt 1971, BIT 11:168-174, from memory)
        double Root(double a, double valueA, double b, double valueB)
        {
            for (int step = 0; step < MostSteps && Math.Abs(b - a) > 1e-8 * Math.Max(Math.Abs(a), Math.Abs(b)); step++)
            {
                double c = b - valueB * (b - a) / (valueB - valueA), value = Beyond(c);
                if (Math.Abs(value) < Sharp)
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
            double[] from = found.Count == 0 ? start : map.Expand(map.Reduce(Opened(parameters, Foreseen(value))));
            MixedLikelihood? there = MixedSearch.Minimise(design, parameters, map, from, Enough);
            if (there is null)
            {
                isLost = true;
                return 1e3;
            }

            found.Add((value, parameters.NumbersOf(there.Loadings)));
            return Math.Sqrt(Math.Max(0, there.Criterion - fit.Criterion)) - Normal95;
        }

        // the other numbers follow the held one nearly straight, from the two that were found nearest to it
        double[] Foreseen(double value)
        {
            (double At, double[] Numbers)[] near = [.. found.OrderBy(f => Math.Abs(f.At - value)).Take(2)];
            double share = near.Length < 2 ? 0 : Math.Clamp((value - near[0].At) / (near[1].At - near[0].At), -2, 2);
            return [.. near[0].Numbers.Select((n, j) => n + share * (near[^1].Numbers[j] - n))];
        }
    }
}
