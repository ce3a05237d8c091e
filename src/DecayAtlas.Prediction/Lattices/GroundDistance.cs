namespace DecayAtlas.Prediction.Lattices;

/// <summary>Lengths on the WGS 84 ellipsoid (a = 6378137 m, 1/f = 298.257223563).</summary>
internal static class GroundDistance
{
    private const double SemiMajorMetres = 6378137;
    private const double Flattening = 1 / 298.257223563;
    private const double EccentricitySquared = Flattening * (2 - Flattening);

    /// <summary>Metres in one degree of longitude along the parallel: π/180 · a · cos φ / sqrt(1 − e² sin² φ).</summary>
    public static double MetresPerDegreeLongitude(double latitudeDegrees)
    {
        double phi = double.DegreesToRadians(latitudeDegrees), s = Math.Sin(phi);
        return Math.PI / 180 * SemiMajorMetres * Math.Cos(phi) / Math.Sqrt(1 - EccentricitySquared * s * s);
    }

    /// <summary>Metres in one degree of latitude at this latitude: π/180 · a (1 − e²) / (1 − e² sin² φ)^1.5.</summary>
    public static double MetresPerDegreeLatitude(double latitudeDegrees)
    {
        double s = Math.Sin(double.DegreesToRadians(latitudeDegrees));
        return Math.PI / 180 * SemiMajorMetres * (1 - EccentricitySquared) / Math.Pow(1 - EccentricitySquared * s * s, 1.5);
    }
}
