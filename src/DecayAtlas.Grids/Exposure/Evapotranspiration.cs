namespace DecayAtlas.Grids.Exposure;

/// <summary>
/// Radiation at the top of the air and potential evapotranspiration. FAO-56 is Allen, Pereira, Raes and Smith 1998, FAO
/// Irrigation and Drainage Paper 56.
/// </summary>
internal static class Evapotranspiration
{
    private const double SolarConstant = 0.0820; // MJ m-2 min-1
    private const double MillimetresPerMegajoule = 0.408; // evaporated by a megajoule a square metre, FAO-56 eq. 20

    /// <summary>Extraterrestrial radiation of a day, MJ m-2 d-1 (FAO-56 eq. 21-25); 0 in the polar night.</summary>
    public static double ExtraterrestrialRadiation(double latitudeDegrees, int dayOfYear)
    {
        (double phi, double delta, double sunset) = Sun(latitudeDegrees, dayOfYear);
        double distance = 1 + 0.033 * Math.Cos(2 * Math.PI * dayOfYear / 365);
        return 24 * 60 / Math.PI * SolarConstant * distance
            * (sunset * Math.Sin(phi) * Math.Sin(delta) + Math.Cos(phi) * Math.Cos(delta) * Math.Sin(sunset));
    }

    /// <summary>Hours between sunrise and sunset (FAO-56 eq. 34).</summary>
    public static double DaylightHours(double latitudeDegrees, int dayOfYear) => 24 / Math.PI * Sun(latitudeDegrees, dayOfYear).Sunset;

    /// <summary>Mean extraterrestrial radiation of a month's days in a common year, MJ m-2 d-1.</summary>
    public static double MonthlyRadiation(double latitudeDegrees, int month) =>
        DaysOf(month).Average(day => ExtraterrestrialRadiation(latitudeDegrees, day));

    /// <summary>
    /// Reference evapotranspiration after Hargreaves, mm d-1 (FAO-56 eq. 52):
    /// 0.0023 (Tmean + 17.8) (Tmax - Tmin)^0.5 Ra, Ra in mm d-1 (0.408 x MJ m-2 d-1); 0 where the formula falls below.
    /// </summary>
    public static double Hargreaves(double meanCelsius, double maximumCelsius, double minimumCelsius, double radiationMegajoules) =>
        Math.Max(0, 0.0023 * (meanCelsius + 17.8) * Math.Sqrt(Math.Max(0, maximumCelsius - minimumCelsius)) * MillimetresPerMegajoule
            * radiationMegajoules);

    /// <summary>Hargreaves for a month, mm; null where a temperature is missing or the maximum lies below the minimum.</summary>
    public static double? HargreavesOfMonth(
        double latitudeDegrees, int month, double? meanCelsius, double? maximumCelsius, double? minimumCelsius) =>
        meanCelsius is { } mean && maximumCelsius is { } high && minimumCelsius is { } low && high >= low
            ? DaysOf(month).Count() * Hargreaves(mean, high, low, MonthlyRadiation(latitudeDegrees, month))
            : null;

    /// <summary>
    /// Potential evapotranspiration of each month after Thornthwaite 1948 (Geographical Review 38:55-94), mm:
    /// 16 (10 T / I)^a (N / 12) (days / 30), I the sum of (T / 5)^1.514 over months above 0, a = 6.75e-7 I3 - 7.71e-5 I2 +
    /// 0.01792 I + 0.49239; above 26.5 degrees his table as the parabola of Willmott et al. 1985, -415.85 + 32.24 T - 0.43 T2.
    /// </summary>
    public static IReadOnlyList<double>? Thornthwaite(double latitudeDegrees, IReadOnlyList<double?> meansCelsius)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(meansCelsius.Count, 12, nameof(meansCelsius));
        if (meansCelsius.Any(t => t is null))
            return null;

        double heat = meansCelsius.Sum(t => t > 0 ? Math.Pow(t.Value / 5, 1.514) : 0);
        double a = 6.75e-7 * heat * heat * heat - 7.71e-5 * heat * heat + 0.01792 * heat + 0.49239;
        double[] months = new double[12];
        for (int i = 0; i < 12; i++)
        {
            double t = meansCelsius[i]!.Value;
            double standard = t <= 0 ? 0 : t < 26.5 ? 16 * Math.Pow(10 * t / heat, a) : -415.85 + 32.24 * t - 0.43 * t * t;
            int[] days = [.. DaysOf(i + 1)];
            months[i] = standard * days.Average(day => DaylightHours(latitudeDegrees, day)) / 12 * days.Length / 30;
        }

        return months;
    }

    private static (double Phi, double Delta, double Sunset) Sun(double latitudeDegrees, int dayOfYear)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Math.Abs(latitudeDegrees), 90, nameof(latitudeDegrees));
        double phi = double.DegreesToRadians(latitudeDegrees);
        double delta = 0.409 * Math.Sin(2 * Math.PI * dayOfYear / 365 - 1.39);
        // Beyond the polar circles the sun does not set (pi) or does not rise (0).
        return (phi, delta, Math.Acos(Math.Clamp(-Math.Tan(phi) * Math.Tan(delta), -1, 1)));
    }

    private static IEnumerable<int> DaysOf(int month)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(month, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(month, 12);
        return Enumerable.Range(new DateOnly(2001, month, 1).DayOfYear, DateTime.DaysInMonth(2001, month));
    }
}
