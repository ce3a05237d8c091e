namespace DecayAtlas.Figures.Drawing;

/// <summary>Round numbers for axes and scale bars.</summary>
public static class RoundNumbers
{
    /// <summary>Steps of degrees that read well on a map edge.</summary>
    private static readonly double[] DegreeSteps =
        [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 20, 30, 45, 60, 90];

    /// <summary>Multiples of 1, 2 or 5 times a power of ten inside [low, high], about as many as wanted (at least 2 when high &gt;
    /// low).</summary>
    public static IReadOnlyList<double> Between(double low, double high, int wanted)
    {
        if (!(high > low))
            return [low];
        double step = Step((high - low) / wanted);
        List<double> ticks = Multiples(low, high, step);
        return ticks.Count >= 2 ? ticks : Multiples(low, high, step / 5);
    }

    /// <summary>Whole multiples of a readable step of degrees inside [low, high], at most <paramref name="most"/>.</summary>
    public static IReadOnlyList<double> Degrees(double low, double high, int most) =>
        Multiples(low, high, DegreeSteps.FirstOrDefault(s => (high - low) / s <= most, 90));

    /// <summary>The largest of 1, 2, 5 times a power of ten that is not above <paramref name="limit"/>.</summary>
    public static double RoundBelow(double limit)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(limit))), lead = limit / power;
        return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
    }

    /// <summary>Multiples of 1, 2, 3, 5 of powers of ten and more, as many as go; even steps where that leaves too few to read
    /// by.</summary>
    public static IReadOnlyList<double> Logarithmic(double low, double high, int most)
    {
        int[][] choices = [[1, 2, 3, 4, 5, 6, 8], [1, 2, 3, 5], [1, 2, 5], [1, 3], [1]];
        int first = (int)Math.Floor(Math.Log10(low)), last = (int)Math.Ceiling(Math.Log10(high));
        double[] powers = [.. Enumerable.Range(first, last - first + 1).Select(p => Math.Pow(10, p))];
        double[] ticks = choices.Select(Within).FirstOrDefault(t => t.Length <= most) ?? powers;
        return ticks.Length >= 3 ? ticks : [.. Between(low, high, most).Where(v => v > 0)];

        double[] Within(int[] multiples) => [.. powers.SelectMany(p => multiples.Select(m => m * p))
            .Where(v => v >= low * (1 - 1e-9) && v <= high * (1 + 1e-9))];
    }

    /// <summary>Round numbers along a short logarithmic scale, the rounder first, each at least a part of its length from every other, so
    /// that all can be written beside it.</summary>
    public static IReadOnlyList<double> Apart(double low, double high, double part)
    {
        double[] leads = [1, 5, 2, 1.5, 3, 7, 4, 6, 8, 1.2, 2.5, 9, 1.1, 1.3, 1.4, 1.6, 1.7, 1.8, 1.9];
        int first = (int)Math.Floor(Math.Log10(low)), last = (int)Math.Ceiling(Math.Log10(high));
        List<double> chosen = [];
        foreach (double lead in leads)
        {
            foreach (int power in Enumerable.Range(first, last - first + 1))
            {
                double number = Math.Round(lead * 10) * Math.Pow(10, power - 1);
                if (number >= low && number <= high && chosen.All(c => Math.Abs(Math.Log(c / number)) >= part * Math.Log(high / low)))
                    chosen.Add(number);
            }
        }

        return [.. chosen.Order()];
    }

    /// <summary>The format of equal decimals, as few as tell the ticks apart.</summary>
    public static string Format(IReadOnlyList<double> ticks)
    {
        double step = ticks.Count > 1 ? ticks[1] - ticks[0] : Math.Max(Math.Abs(ticks[0]) / 10, double.Epsilon);
        return "F" + Math.Clamp((int)Math.Ceiling(-Math.Log10(step) - 1e-9), 0, 12);
    }

    private static double Step(double atLeast)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(atLeast))), lead = atLeast / power;
        return (lead <= 1 + 1e-9 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10) * power;
    }

    private static List<double> Multiples(double low, double high, double step)
    {
        // Whole numbers of steps first: adding up a step would drift.
        double slack = 1e-9 * (high - low) / step;
        long first = (long)Math.Ceiling(low / step - slack), last = (long)Math.Floor(high / step + slack);
        List<double> ticks = [];
        for (long i = first; i <= last; i++)
            ticks.Add(step < 1 ? i / Math.Round(1 / step, 9) : i * step);
        return ticks;
    }
}
