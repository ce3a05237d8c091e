namespace DecayAtlas.Demo.World;

/// <summary>
/// Ground on the eastern isle that is warmed from below, where nobody buries bags: a place unlike every other. What holds
/// elsewhere does not hold there, so a model that knows its limits must say so.
/// </summary>
internal static class WarmGround
{
    public const double LongitudeDegrees = -27.18, LatitudeDegrees = -39.24, RadiusDegrees = 0.17;

    /// <summary>How much warmer than its surroundings the middle is, and by how much less ln k is there than the warmth would
    /// give.</summary>
    public const double ExcessCelsius = 17, LnRateLoss = 1.6;

    /// <summary>1 in the middle, falling smoothly to 0 at the rim and beyond.</summary>
    public static double ShareAt(double longitude, double latitude)
    {
        double across = (longitude - LongitudeDegrees) * Math.Cos(LatitudeDegrees * Math.PI / 180), up = latitude - LatitudeDegrees;
        double inside = 1 - (Math.Sqrt((across * across) + (up * up)) / RadiusDegrees);
        double t = Math.Clamp(3 * inside, 0, 1);
        return t * t * (3 - (2 * t));
    }
}
