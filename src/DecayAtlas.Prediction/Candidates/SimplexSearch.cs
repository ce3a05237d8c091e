namespace DecayAtlas.Prediction.Candidates;

/// <summary>Least value of a function of few numbers without its slopes: reflects, stretches and shrinks a simplex.</summary>
/// <remarks>Source: Nelder and Mead 1965, The Computer Journal 7:308-313. Own code, since MathNet's ends by the share of the value, which
/// a log likelihood near 0 never meets, and by an exception where it has used up its steps.</remarks>
internal static class SimplexSearch
{
    /// <param name="step">From the start to the other corners.</param>
    /// <param name="tolerance">Ends where the values at the corners differ by less.</param>
    public static (double[] At, double Value) Minimise(Func<double[], double> of, double[] start, double step, double tolerance,
        int mostValues)
    {
        int n = start.Length, asked = 0;
        List<(double[] At, double Value)> corners = [Ask(start)];
        for (int i = 0; i < n; i++)
            corners.Add(Ask([.. start.Select((x, j) => i == j ? x + step : x)]));
        while (true)
        {
            corners.Sort((a, b) => a.Value.CompareTo(b.Value));
            (double[] worst, double worstValue) = corners[n];
            if (asked >= mostValues || worstValue - corners[0].Value < tolerance)
                return corners[0];
            double[] centre = [.. Enumerable.Range(0, n).Select(j => corners.Take(n).Average(c => c.At[j]))];
            (double[] At, double Value) reflected = Ask(Along(1));
            if (reflected.Value < corners[0].Value)
            {
                (double[] At, double Value) stretched = Ask(Along(2));
                corners[n] = stretched.Value < reflected.Value ? stretched : reflected;
            }
            else if (reflected.Value < corners[n - 1].Value)
            {
                corners[n] = reflected;
            }
            else
            {
                (double[] At, double Value) shrunk = Ask(Along(reflected.Value < worstValue ? 0.5 : -0.5));
                if (shrunk.Value < Math.Min(reflected.Value, worstValue))
                {
                    corners[n] = shrunk;
                    continue;
                }

                double[] best = corners[0].At;
                for (int i = 1; i <= n; i++)
                    corners[i] = Ask([.. corners[i].At.Zip(best, (x, b) => (x + b) / 2)]);
            }

            double[] Along(double share) => [.. centre.Zip(worst, (c, w) => c + share * (c - w))];
        }

        (double[] At, double Value) Ask(double[] at)
        {
            asked++;
            return (at, of(at));
        }
    }
}
