namespace DecayAtlas.Grids;

/// <summary>A place on the ground, WGS 84, in decimal degrees.</summary>
/// <param name="LongitudeDegrees">Degrees east of Greenwich; 190 and -170 are the same meridian.</param>
public readonly record struct GeoPoint(double LongitudeDegrees, double LatitudeDegrees)
{
    /// <summary>Mean radius of the Earth in metres (IUGG 1980, R1).</summary>
    public const double MeanEarthRadiusMetres = 6_371_008.8;

    /// <summary>
    /// Length in metres of the shortest line on the WGS 84 ellipsoid (Vincenty 1975), to a millimetre. Between places nearly
    /// opposite to each other, more than 19,900 km apart, it is that on the mean sphere (within 0.6 %).
    /// </summary>
    public double GroundDistanceMetres(GeoPoint other) => Geodesic.Metres(this, other);
}
