namespace DecayAtlas.Grids.Projections;

/// <summary>Lambert azimuthal equal area around a point that is no pole (Snyder 1987, eq. 24-16 to 24-31).</summary>
internal sealed class AzimuthalEqualArea : PlaneMethod
{
    private readonly Ellipsoid _ellipsoid;
    private readonly double _radius;
    private readonly double _sin1;
    private readonly double _cos1;
    private readonly double _d;

    public AzimuthalEqualArea(Ellipsoid ellipsoid, double latitudeOfOrigin)
    {
        _ellipsoid = ellipsoid;
        _radius = ellipsoid.A * Math.Sqrt(ellipsoid.PolarQ / 2);
        (_sin1, _cos1) = Authalic(latitudeOfOrigin);
        _d = ellipsoid.A * ellipsoid.ParallelRadius(latitudeOfOrigin) / (_radius * _cos1);
    }

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        (double sin, double cos) = Authalic(phi);
        double nearness = 1 + _sin1 * sin + _cos1 * cos * Math.Cos(lambda);
        double b = _radius * Math.Sqrt(2 / nearness);
        x = b * _d * cos * Math.Sin(lambda);
        y = b / _d * (_cos1 * sin - _sin1 * cos * Math.Cos(lambda));
        return nearness > 1e-9; // the antipode is a circle and no point
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        double u = x / _d, v = y * _d;
        double rho = Math.Sqrt(u * u + v * v);
        double half = rho / (2 * _radius);
        double angle = 2 * Math.Asin(half);
        double sin = Math.Sin(angle), cos = Math.Cos(angle);
        lambda = Math.Atan2(u * sin, rho * _cos1 * cos - v * _sin1 * sin);
        double sinBeta = rho == 0 ? _sin1 : cos * _sin1 + v * sin * _cos1 / rho;
        phi = _ellipsoid.FromAuthalic(Math.Asin(Math.Clamp(sinBeta, -1, 1)));
        return half < 1;
    }

    private (double Sin, double Cos) Authalic(double phi)
    {
        double sin = Math.Clamp(_ellipsoid.Q(Math.Sin(phi)) / _ellipsoid.PolarQ, -1, 1);
        return (sin, Math.Sqrt((1 - sin) * (1 + sin)));
    }
}

/// <summary>Lambert azimuthal equal area around a pole (Snyder 1987, eq. 24-23 to 24-26).</summary>
internal sealed class PolarAzimuthalEqualArea(Ellipsoid ellipsoid, bool north) : PlaneMethod
{
    private readonly int _sign = north ? 1 : -1;

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        double rho = ellipsoid.A * Math.Sqrt(Math.Max(0, ellipsoid.PolarQ - _sign * ellipsoid.Q(Math.Sin(phi))));
        x = rho * Math.Sin(lambda);
        y = -_sign * rho * Math.Cos(lambda);
        return true;
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        // rho2 = a2 (qp - q) = 2 a2 qp sin2(half the authalic distance from the pole)
        double half = Math.Sqrt(x * x + y * y) / (ellipsoid.A * Math.Sqrt(2 * ellipsoid.PolarQ));
        lambda = Math.Atan2(x, -_sign * y);
        phi = _sign * ellipsoid.FromAuthalic(Math.PI / 2 - 2 * Math.Asin(half));
        return half <= 1;
    }
}

/// <summary>Polar stereographic, true to scale on a parallel or with a scale at the pole (Snyder 1987, eq. 21-30 to 21-40).</summary>
internal sealed class PolarStereographic : PlaneMethod
{
    private readonly Ellipsoid _ellipsoid;
    private readonly int _sign;
    private readonly double _factor;

    /// <param name="trueParallel">Latitude true to scale; a pole where the scale is given at the pole.</param>
    public PolarStereographic(Ellipsoid ellipsoid, bool north, double trueParallel, double scale)
    {
        _ellipsoid = ellipsoid;
        _sign = north ? 1 : -1;
        double phi = Math.Abs(trueParallel);
        double e = ellipsoid.E;
        _factor = Math.Abs(phi - Math.PI / 2) < 1e-9
            ? 2 * ellipsoid.A * scale / Math.Sqrt(Math.Pow(1 + e, 1 + e) * Math.Pow(1 - e, 1 - e))
            : scale * ellipsoid.A * ellipsoid.ParallelRadius(phi) * Math.Exp(ellipsoid.Isometric(phi));
    }

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        double rho = _factor * Math.Exp(-_ellipsoid.Isometric(_sign * phi));
        x = rho * Math.Sin(lambda);
        y = -_sign * rho * Math.Cos(lambda);
        return rho < 1e9; // the far pole lies at infinity
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        double rho = Math.Sqrt(x * x + y * y);
        lambda = Math.Atan2(x, -_sign * y);
        phi = _sign * (rho == 0 ? Math.PI / 2 : _ellipsoid.FromIsometric(-Math.Log(rho / _factor)));
        return true;
    }
}
