using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Outliers;

/// <summary>How the last digits of a set of readings fall.</summary>
/// <param name="ChiSquare">Pearson's, against equal shares, 9 degrees of freedom.</param>
/// <param name="CramersV">Size of the preference, √(χ²/(9 n)): 0 none, 1 one digit only; unlike P it does not grow with n.</param>
public sealed record LastDigits(IReadOnlyList<int> Counts, double ChiSquare, double PValue, double CramersV, double ShareOfZeroAndFive);

/// <summary>
/// Digit preference: readings of a balance end in every digit alike; readings made up, or rounded by eye, do not.
/// </summary>
/// <remarks>Pearson 1900, Philosophical Magazine 50:157-175; at least five expected in each cell (Cochran 1954, Biometrics 10:417-451), so
/// 50 readings. Last digits are uniform only where the readings spread over many times the resolution; of nominal masses weighed out to one
/// value they are not.</remarks>
public static class DigitPreference
{
    public const int FewestReadings = 50;

    /// <param name="resolution">Of the balance, in the unit of the readings, a power of ten (0.01).</param>
    public static Answer<LastDigits> Of(IReadOnlyList<double> readings, double resolution)
    {
        double power = Math.Log10(resolution);
        if (!(resolution > 0) || Math.Abs(power - Math.Round(power)) > 1e-9)
            return new Unanswered("Last digits need a resolution that is a power of ten.");
        if (readings.Any(r => !double.IsFinite(r)))
            return Unanswered.NotFinite("readings");
        int n = readings.Count;
        if (n < FewestReadings)
            return Unanswered.TooFew("readings", n, FewestReadings);
        double steps = Math.Round(Math.Abs(readings.Max() - readings.Min()) / resolution);
        if (steps < 20)
            return new Unanswered("The readings spread over fewer than 20 steps of the balance: their last digits need not be uniform.");
        int[] counts = new int[10];
        foreach (double r in readings)
            counts[(int)(Math.Abs(Math.Round(r / resolution)) % 10)]++;
        double expected = n / 10.0, chiSquare = counts.Sum(c => (c - expected) * (c - expected) / expected);
        return new LastDigits(
            counts, chiSquare, 1 - ChiSquared.CDF(9, chiSquare), Math.Sqrt(chiSquare / (9 * n)), (counts[0] + counts[5]) / (double)n);
    }
}
