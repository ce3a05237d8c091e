using System.Globalization;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace DecayAtlas.Figures;

/// <summary>One axis: what it shows with its unit, for example "k (per day)".</summary>
public sealed record Axis(string Label)
{
    /// <summary>Logarithmic scale; values of 0 and below are left out.</summary>
    public bool IsLogarithmic { get; init; }

    /// <summary>Where the axis begins; by default a little before the data.</summary>
    public double? From { get; init; }

    /// <summary>Where it ends.</summary>
    public double? To { get; init; }

    internal double Place(double value) => IsLogarithmic ? Math.Log10(value) : value;

    internal bool CanShow(double value) => double.IsFinite(value) && (!IsLogarithmic || value > 0);

    /// <summary>The range of the axis in places, a little wider than the data.</summary>
    internal (double From, double To) Range(IEnumerable<double> values)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (double place in values.Where(CanShow).Select(Place))
            (low, high) = (Math.Min(low, place), Math.Max(high, place));
        if (low > high)
            (low, high) = (0, 1);
        double margin = high > low ? 0.04 * (high - low) : low == 0 ? 1 : 0.1 * Math.Abs(low);
        return (From is { } from && CanShow(from) ? Place(from) : low - margin, To is { } to && CanShow(to) ? Place(to) : high + margin);
    }

    internal void Apply(IAxis axis, (double From, double To) range, int mostTicks)
    {
        axis.Label.Text = Label;
        axis.Min = range.From;
        axis.Max = range.To;
        (double Place, string Text)[] ticks = IsLogarithmic ? LogarithmicTicks(range, mostTicks) : LinearTicks(range, mostTicks);
        axis.TickGenerator = new NumericManual([.. ticks.Select(t => t.Place)], [.. ticks.Select(t => t.Text)]);
    }

    /// <summary>Steps of 1, 2 or 5 times a power of ten, labels with the decimals that the step needs.</summary>
    internal static (double Place, string Text)[] LinearTicks((double From, double To) range, int mostTicks)
    {
        double span = range.To - range.From;
        double power = Math.Pow(10, Math.Floor(Math.Log10(span / mostTicks)));
        double step = power * ((double[])[1, 2, 5, 10]).First(s => span / (power * s) <= mostTicks);
        int decimals = Math.Max(0, (int)-Math.Floor(Math.Log10(step) + 1e-9));
        double first = Math.Ceiling(range.From / step - 1e-9);
        int count = (int)Math.Floor(range.To / step + 1e-9) - (int)first + 1;
        // + 0.0, since -0 would be written as such
        return [.. Enumerable.Range(0, count).Select(i => (first + i) * step + 0.0).Select(v => (v, Math.Round(v, decimals).ToString("F" + decimals, CultureInfo.InvariantCulture).Replace('-', '−')))];
    }

    private static (double Place, string Text)[] LogarithmicTicks((double From, double To) range, int mostTicks)
    {
        int[][] choices = [[1, 2, 3, 4, 5, 6, 8], [1, 2, 3, 5], [1, 2, 5], [1, 3], [1]];
        foreach (int[] choice in choices)
        {
            double[] values = [.. Enumerable.Range((int)Math.Floor(range.From), (int)Math.Ceiling(range.To) - (int)Math.Floor(range.From) + 1)
                .SelectMany(p => choice.Select(c => c * Math.Pow(10, p))).Where(v => Math.Log10(v) >= range.From - 1e-9 && Math.Log10(v) <= range.To + 1e-9)];
            if (values.Length <= mostTicks)
                return values.Length >= 2 ? [.. values.Select(v => (Math.Log10(v), Short(v)))] : [.. LinearTicks((Math.Pow(10, range.From), Math.Pow(10, range.To)), mostTicks).Where(t => t.Place > 0).Select(t => (Math.Log10(t.Place), t.Text))];
        }

        return [.. Enumerable.Range((int)Math.Ceiling(range.From), (int)Math.Floor(range.To) - (int)Math.Ceiling(range.From) + 1).Select(p => ((double)p, Short(Math.Pow(10, p))))];
    }

    private static string Short(double v) => v is >= 1e-5 and < 1e6
        ? ((decimal)v).ToString("0.########", CultureInfo.InvariantCulture)
        : v.ToString("0.#e0", CultureInfo.InvariantCulture);
}
