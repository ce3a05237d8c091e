namespace DecayAtlas.Demo.Truth;

/// <summary>
/// The true response of decay on the invented islands; truth/README.md states the same for readers of the folder.
/// </summary>
/// <remarks>
/// <code>
/// ln k = ln 0.0125
///      + 308.56 (1 / 56.02 - 1 / (T + 46.02))     warmth, Lloyd and Taylor 1994, Functional Ecology 8:315-323, equation 11
///      - 5.0 (M - 0.62)²                          moisture: too dry and too wet are both slow
///      + 0.09 (pH - 6.2)
///      - 0.005 (clay - 24)
/// S    = 0.28 - 0.011 (T - 10) - 0.22 (M - 0.55)
/// </code>
/// T mean annual air temperature (degC), M soil moisture index (0 to 1), clay in percent, k per day. Every site adds a
/// normal effect to ln k (sd 0.12) and to S (sd 0.020), every burial another (sd 0.10 and 0.012); arable land adds
/// +0.10 when organic and -0.08 when conventional. On warm ground (<see cref="WarmGround"/>), where there are no sites, ln k is less by up
/// to 1.6. The constants other than Lloyd and Taylor's are invented.
/// </remarks>
internal sealed class DecayResponse(InventedWorld world)
{
    public const double SiteSdLnRate = 0.12, BurialSdLnRate = 0.10;
    public const double SiteSdStabilisation = 0.020, BurialSdStabilisation = 0.012;
    public const double OrganicArableEffect = 0.10, ConventionalArableEffect = -0.08;

    /// <summary>By how much warmed plots are warmer (K), and the rate of the fast litter over that of the slow one in series.</summary>
    public const double WarmingKelvin = 3, FastOverSlowRate = 8;

    /// <summary>ln of k warmed over k control at a place of some mean temperature (°C): the warmth term alone.</summary>
    public static double LnWarmingRatioAt(double temperatureCelsius) =>
        308.56 * ((1 / (temperatureCelsius + 46.02)) - (1 / (temperatureCelsius + WarmingKelvin + 46.02)));

    /// <summary>ln of the rate per day that the soil and climate of a place allow, without site or burial effects; NaN over the
    /// sea.</summary>
    public double LnRateAt(double longitude, double latitude) => LnRate(
        world.Temperature.At(longitude, latitude), world.SoilMoisture.At(longitude, latitude),
        world.Ph.At(longitude, latitude), world.Clay.At(longitude, latitude))
        - (WarmGround.LnRateLoss * WarmGround.ShareAt(longitude, latitude));

    public double StabilisationAt(double longitude, double latitude) =>
        Stabilisation(world.Temperature.At(longitude, latitude), world.SoilMoisture.At(longitude, latitude));

    public static double LnRate(double temperatureCelsius, double soilMoisture, double ph, double clayPercent) =>
        Math.Log(0.0125)
        + (308.56 * ((1 / 56.02) - (1 / (temperatureCelsius + 46.02))))
        - (5.0 * (soilMoisture - 0.62) * (soilMoisture - 0.62))
        + (0.09 * (ph - 6.2))
        - (0.005 * (clayPercent - 24));

    public static double Stabilisation(double temperatureCelsius, double soilMoisture) =>
        0.28 - (0.011 * (temperatureCelsius - 10)) - (0.22 * (soilMoisture - 0.55));

    /// <summary>True rate per day on the fine lattice.</summary>
    public Field RateMap() => Field.Of((column, row, x, y) => Math.Exp(LnRate(
        world.Temperature[column, row], world.SoilMoisture[column, row], world.Ph[column, row], world.Clay[column, row])
        - (WarmGround.LnRateLoss * WarmGround.ShareAt(x, y))));
}
