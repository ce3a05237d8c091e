namespace DecayAtlas.Grids.Projections;

/// <summary>Albers equal-area conic (Snyder 1987, eq. 14-1 to 14-21).</summary>
internal sealed class Albers : PlaneMethod
{
    private readonly Ellipsoid _ellipsoid;
    private readonly double _n;
    private readonly double _c;
    private readonly double _rho0;

    public Albers(Ellipsoid ellipsoid, double latitudeOfOrigin, double first, double second)
    {
        _ellipsoid = ellipsoid;
        double m1 = ellipsoid.ParallelRadius(first), m2 = ellipsoid.ParallelRadius(second);
        double q1 = ellipsoid.Q(Math.Sin(first)), q2 = ellipsoid.Q(Math.Sin(second));
        _n = Math.Abs(first - second) < 1e-10 ? Math.Sin(first) : (m1 * m1 - m2 * m2) / (q2 - q1);
        _c = m1 * m1 + _n * q1;
        _rho0 = Rho(latitudeOfOrigin);
    }

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        double rho = Rho(phi);
        x = rho * Math.Sin(_n * lambda);
        y = _rho0 - rho * Math.Cos(_n * lambda);
        return true;
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        int sign = Math.Sign(_n);
        double down = _rho0 - y;
        double rho = Math.Sqrt(x * x + down * down);
        lambda = Math.Atan2(sign * x, sign * down) / _n;
        double scaled = rho * _n / _ellipsoid.A;
        double sinBeta = (_c - scaled * scaled) / _n / _ellipsoid.PolarQ;
        phi = _ellipsoid.FromAuthalic(Math.Asin(sinBeta));
        return Math.Abs(sinBeta) <= 1 && Math.Abs(lambda) <= Math.PI;
    }

    private double Rho(double phi) => _ellipsoid.A * Math.Sqrt(Math.Max(0, _c - _n * _ellipsoid.Q(Math.Sin(phi)))) / _n;
}

/// <summary>Lambert conformal conic with one or two standard parallels (Snyder 1987, eq. 15-1 to 15-11).</summary>
internal sealed class LambertConformal : PlaneMethod
{
    private readonly Ellipsoid _ellipsoid;
    private readonly double _n;
    private readonly double _f;
    private readonly double _rho0;

    public LambertConformal(Ellipsoid ellipsoid, double latitudeOfOrigin, double first, double second, double scale)
    {
        _ellipsoid = ellipsoid;
        double m1 = ellipsoid.ParallelRadius(first), m2 = ellipsoid.ParallelRadius(second);
        double psi1 = ellipsoid.Isometric(first), psi2 = ellipsoid.Isometric(second);
        _n = Math.Abs(first - second) < 1e-10 ? Math.Sin(first) : Math.Log(m1 / m2) / (psi2 - psi1);
        _f = scale * ellipsoid.A * m1 / _n * Math.Exp(_n * psi1);
        _rho0 = Rho(latitudeOfOrigin);
    }

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        double rho = Rho(phi);
        x = rho * Math.Sin(_n * lambda);
        y = _rho0 - rho * Math.Cos(_n * lambda);
        return Math.Abs(rho) < 1e9; // the far pole lies at infinity
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        int sign = Math.Sign(_n);
        double down = _rho0 - y;
        double rho = sign * Math.Sqrt(x * x + down * down);
        lambda = Math.Atan2(sign * x, sign * down) / _n;
        phi = rho == 0 ? sign * Math.PI / 2 : _ellipsoid.FromIsometric(-Math.Log(rho / _f) / _n);
        return Math.Abs(lambda) <= Math.PI;
    }

    private double Rho(double phi) => _f * Math.Exp(-_n * _ellipsoid.Isometric(phi));
}
