namespace DecayAtlas.Pages.Charts;

/// <summary>One axis of a drawing: from values to places, straight or logarithmic, with round marks.</summary>
internal sealed class Axis
{
    private readonly bool _isLog;
    private readonly double _low, _high, _from, _to;

    private Axis(double low, double high, double from, double to, bool isLog, IReadOnlyList<double> ticks)
    {
        (_low, _high, _from, _to, _isLog, Ticks) = (low, high, from, to, isLog, ticks);
    }

    /// <summary>Round values between the ends.</summary>
    public IReadOnlyList<double> Ticks { get; }

    public double Low => _low;

    public double High => _high;

    /// <summary>A straight axis; a range without width is given one.</summary>
    public static Axis Linear(double low, double high, double from, double to, int ticks = 5)
    {
        if (!(high > low))
            (low, high) = (low - Math.Max(Math.Abs(low), 1) * 0.1, high + Math.Max(Math.Abs(high), 1) * 0.1);
        double step = RoundStep((high - low) / ticks);
        return new Axis(low, high, from, to, false, [.. Steps(Math.Ceiling(low / step - 1e-9), Math.Floor(high / step + 1e-9)).Select(n => n == 0 ? 0 : n * step)]);
    }

    /// <summary>A logarithmic axis for values above 0.</summary>
    /// <param name="marks">Round values to mark; 1, 2 and 5 of every power of ten where none are given, or even steps where that leaves too few to read by.</param>
    public static Axis Log(double low, double high, double from, double to, IReadOnlyList<double>? marks = null)
    {
        if (!(high > low))
            (low, high) = (low / 1.5, high * 1.5);
        IEnumerable<double> all = marks ?? Steps(Math.Floor(Math.Log10(low)), Math.Ceiling(Math.Log10(high))).SelectMany(p => new[] { 1.0, 2, 5 }.Select(m => m * Math.Pow(10, p)));
        double[] within = [.. all.Where(t => t >= low * 0.999 && t <= high * 1.001)];
        return new Axis(low, high, from, to, true, within.Length < 3 && marks is null ? Linear(low, high, from, to).Ticks : within);
    }

    public double At(double value)
    {
        double share = _isLog ? Math.Log(value / _low) / Math.Log(_high / _low) : (value - _low) / (_high - _low);
        return _from + Math.Clamp(share, -0.02, 1.02) * (_to - _from);
    }

    private static double RoundStep(double rough)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough))), head = rough / power;
        return (head < 1.5 ? 1 : head < 3.5 ? 2 : head < 7.5 ? 5 : 10) * power;
    }

    private static IEnumerable<double> Steps(double first, double last)
    {
        for (double n = first; n <= last; n++)
            yield return n;
    }
}
