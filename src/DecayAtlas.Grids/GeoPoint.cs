namespace DecayAtlas.Grids;

/// <summary>A place on the ground, WGS 84, in decimal degrees.</summary>
/// <param name="LongitudeDegrees">Degrees east of Greenwich; 190 and -170 are the same meridian.</param>
/// <param name="LatitudeDegrees">Degrees north of the equator.</param>
public readonly record struct GeoPoint(double LongitudeDegrees, double LatitudeDegrees)
{
    /// <summary>Mean radius of the Earth in metres (IUGG 1980, R1), the sphere of <see cref="GroundDistanceMetres"/>.</summary>
    public const double MeanEarthRadiusMetres = 6_371_008.8;

    /// <summary>
    /// Great-circle distance in metres by the haversine formula on the mean sphere. It differs from the
    /// ellipsoidal distance by at most 0.6 %, far less than the cell of any grid it is used to search.
    /// </summary>
    public double GroundDistanceMetres(GeoPoint other)
    {
        double latitude = double.DegreesToRadians(LatitudeDegrees);
        double otherLatitude = double.DegreesToRadians(other.LatitudeDegrees);
        double sinLatitude = Math.Sin((otherLatitude - latitude) / 2);
        double sinLongitude = Math.Sin(double.DegreesToRadians(other.LongitudeDegrees - LongitudeDegrees) / 2);
        double h = sinLatitude * sinLatitude
            + Math.Cos(latitude) * Math.Cos(otherLatitude) * sinLongitude * sinLongitude;
        return 2 * MeanEarthRadiusMetres * Math.Asin(Math.Min(1, Math.Sqrt(h)));
    }
}
