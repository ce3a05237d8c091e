namespace DecayAtlas.Grids.Projections;

/// <summary>Mercator (Snyder 1987, eq. 7-6 to 7-9); on the sphere of the equatorial radius it is web Mercator.</summary>
/// <param name="scale">Scale on the equator.</param>
internal sealed class Mercator(Ellipsoid ellipsoid, double scale) : PlaneMethod
{
    private readonly double _radius = ellipsoid.A * scale;

    public override double? TurnWidth => 2 * Math.PI * _radius;

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        x = _radius * lambda;
        y = _radius * ellipsoid.Isometric(phi);
        return Math.Abs(phi) < Math.PI / 2 - 1e-9; // the poles lie at infinity
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        lambda = x / _radius;
        phi = ellipsoid.FromIsometric(y / _radius);
        return true;
    }
}

/// <summary>Cylindrical equal area (Snyder 1987, eq. 10-13 to 10-17), which EASE-Grid 2 is drawn in.</summary>
/// <param name="scale">Radius of the standard parallel over that of the equator.</param>
internal sealed class CylindricalEqualArea(Ellipsoid ellipsoid, double scale) : PlaneMethod
{
    public override double? TurnWidth => 2 * Math.PI * ellipsoid.A * scale;

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        x = ellipsoid.A * scale * lambda;
        y = ellipsoid.A * ellipsoid.Q(Math.Sin(phi)) / (2 * scale);
        return true;
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        lambda = x / (ellipsoid.A * scale);
        double sinBeta = 2 * y * scale / (ellipsoid.A * ellipsoid.PolarQ);
        phi = ellipsoid.FromAuthalic(Math.Asin(sinBeta));
        return Math.Abs(sinBeta) <= 1;
    }
}
