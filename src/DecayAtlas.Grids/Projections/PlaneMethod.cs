namespace DecayAtlas.Grids.Projections;

/// <summary>
/// The formulas of one map projection. Longitudes are radians east of the projection's own meridian in -pi..pi, latitudes
/// radians, coordinates metres before the false origin is added.
/// </summary>
internal abstract class PlaneMethod
{
    /// <summary>Metres that one turn round the Earth takes, where meridians are parallel lines; otherwise null.</summary>
    public virtual double? TurnWidth => null;

    /// <summary>Whether the longitude handed to the formulas is counted from Greenwich and not from the projection's own
    /// meridian.</summary>
    public virtual bool CountsFromGreenwich => false;

    /// <summary>False where the point has no place on the map.</summary>
    public abstract bool Forward(double lambda, double phi, out double x, out double y);

    /// <summary>False where the map has no ground.</summary>
    public abstract bool Inverse(double x, double y, out double lambda, out double phi);

    public static PlaneMethod Of(CrsDefinition crs)
    {
        Ellipsoid e = crs.Ellipsoid;
        double lat0 = double.DegreesToRadians(crs.LatitudeOfOrigin);
        double first = double.DegreesToRadians(crs.Parallel1);
        double second = double.DegreesToRadians(crs.Parallel2);
        return crs.Method switch
        {
            ProjectionMethod.TransverseMercator => new TransverseMercator(e, lat0, crs.Scale),
            ProjectionMethod.Mercator => new Mercator(e, crs.Scale * (first == 0 ? 1 : e.ParallelRadius(first))),
            ProjectionMethod.WebMercator => new Mercator(e.ToSphere(), 1),
            ProjectionMethod.CylindricalEqualArea => new CylindricalEqualArea(e, e.ParallelRadius(first)),
            ProjectionMethod.Albers => new Albers(e, lat0, first, second),
            ProjectionMethod.LambertConformal => new LambertConformal(e, lat0, first, second, crs.Scale),
            ProjectionMethod.LambertAzimuthal => Math.Abs(Math.Abs(crs.LatitudeOfOrigin) - 90) < 1e-9
                ? new PolarAzimuthalEqualArea(e, crs.LatitudeOfOrigin > 0)
                : new AzimuthalEqualArea(e, lat0),
            ProjectionMethod.PolarStereographic => new PolarStereographic(e, crs.LatitudeOfOrigin > 0, first, crs.Scale),
            ProjectionMethod.Sinusoidal => new Sinusoidal(e),
            ProjectionMethod.Mollweide => new Mollweide(e.A),
            ProjectionMethod.GoodeInterrupted => new GoodeInterrupted(e.A),
            _ => throw new InvalidOperationException($"No formulas for {crs.Method}."),
        };
    }
}
