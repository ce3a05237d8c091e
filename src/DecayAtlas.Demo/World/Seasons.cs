namespace DecayAtlas.Demo.World;

/// <summary>
/// The year on the islands, in the southern hemisphere: warmest in January, wettest in July where the westerlies bring the rain.
/// The mean of the twelve temperatures and the sum of the twelve precipitations are those of the year, so that the seasons tell
/// nothing else than the annual grids. The true response of decay knows the annual mean only.
/// </summary>
internal static class Seasons
{
    /// <summary>Mean air temperature of a month, degrees Celsius.</summary>
    public static double TemperatureCelsius(double annualCelsius, double elevationMetres, int month) =>
        annualCelsius + ((4.2 + (0.0015 * elevationMetres)) * Math.Cos(2 * Math.PI * (month - 1) / 12));

    /// <summary>Precipitation of a month, millimetres.</summary>
    public static double PrecipitationMillimetres(double annualMillimetres, int month) =>
        annualMillimetres / 12 * (1 + (0.35 * Math.Cos(2 * Math.PI * (month - 7) / 12)));
}
