namespace DecayAtlas.Grids.Projections;

/// <summary>Sinusoidal on sphere or ellipsoid (Snyder 1987, eq. 30-6 to 30-11).</summary>
internal sealed class Sinusoidal(Ellipsoid ellipsoid) : PlaneMethod
{
    private readonly KruegerSeries _series = new(ellipsoid);

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        x = ellipsoid.A * lambda * ellipsoid.ParallelRadius(phi);
        y = _series.Radius * _series.Forward(Math.Atan(ellipsoid.ConformalTangent(Math.Tan(phi))), 0).Xi;
        return true;
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        double rectifying = y / _series.Radius;
        phi = Math.Atan(ellipsoid.FromConformalTangent(Math.Tan(_series.Inverse(rectifying, 0).Xi)));
        lambda = x / (ellipsoid.A * ellipsoid.ParallelRadius(phi));
        return Math.Abs(rectifying) <= Math.PI / 2 && Math.Abs(lambda) <= Math.PI;
    }
}

/// <summary>Mollweide on the sphere of the equatorial radius (Snyder 1987, eq. 31-1 to 31-7).</summary>
internal sealed class Mollweide(double radius) : PlaneMethod
{
    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        // With d the distance of the parametric angle from the pole, 2 d - sin 2 d = pi (1 - sin |phi|): no digits are lost near the pole.
        double half = Math.Sin((Math.PI / 2 - Math.Abs(phi)) / 2);
        double target = 2 * Math.PI * half * half;
        double d = Math.Cbrt(0.75 * target);
        for (int i = 0; i < 12 && d > 0; i++)
        {
            double step = (2 * d - Math.Sin(2 * d) - target) / (4 * Math.Sin(d) * Math.Sin(d));
            d -= step;
            if (Math.Abs(step) < 1e-15 * d)
                break;
        }

        x = 2 * Math.Sqrt(2) / Math.PI * radius * lambda * Math.Sin(d);
        y = Math.CopySign(Math.Sqrt(2) * radius * Math.Cos(d), phi);
        return true;
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        double sin = y / (Math.Sqrt(2) * radius);
        double theta = Math.Asin(sin);
        lambda = Math.PI * x / (2 * Math.Sqrt(2) * radius * Math.Cos(theta));
        phi = Math.Asin((2 * theta + Math.Sin(2 * theta)) / Math.PI);
        return Math.Abs(sin) <= 1 && Math.Abs(lambda) <= Math.PI;
    }
}

/// <summary>
/// Goode's homolosine, interrupted over the oceans, on the sphere of the equatorial radius: sinusoidal up to 40 degrees
/// 44 minutes 11.8 seconds, Mollweide beyond, in the lobes of Steinwand 1994 (Photogrammetric Engineering and Remote
/// Sensing 60:1249) as general map libraries draw them.
/// </summary>
internal sealed class GoodeInterrupted : PlaneMethod
{
    private static readonly double Seam = double.DegreesToRadians(40 + 44 / 60.0 + 11.8 / 3600);
    private static readonly (double West, double East, double Centre)[] North = Lobes((-180, -40, -100), (-40, 180, 30));
    private static readonly (double West, double East, double Centre)[] South =
        Lobes((-180, -100, -160), (-100, -20, -60), (-20, 80, 20), (80, 180, 140));

    private readonly double _radius;
    private readonly Sinusoidal _sinusoidal;
    private readonly Mollweide _mollweide;
    private readonly double _shift;

    public GoodeInterrupted(double radius)
    {
        _radius = radius;
        _sinusoidal = new Sinusoidal(new Ellipsoid(radius, 0));
        _mollweide = new Mollweide(radius);
        _mollweide.Forward(0, Seam, out _, out double y);
        _shift = radius * Seam - y;
    }

    public override bool CountsFromGreenwich => true;

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        double centre = LobeOf(lambda, phi).Centre;
        if (Math.Abs(phi) > Seam)
        {
            _mollweide.Forward(lambda - centre, phi, out x, out y);
            y += Math.Sign(phi) * _shift;
        }
        else
        {
            _sinusoidal.Forward(lambda - centre, phi, out x, out y);
        }

        x += _radius * centre;
        return true;
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        (double west, double east, double centre) = LobeOf(x / _radius, y);
        double fromCentre = x - _radius * centre;
        bool onMap = Math.Abs(y) > _radius * Seam
            ? _mollweide.Inverse(fromCentre, y - Math.Sign(y) * _shift, out lambda, out phi)
            : _sinusoidal.Inverse(fromCentre, y, out lambda, out phi);
        lambda += centre;
        const double slack = 1e-12;
        return onMap && lambda >= west - slack && lambda <= east + slack;
    }

    private static (double West, double East, double Centre) LobeOf(double lambda, double northing)
    {
        (double West, double East, double Centre)[] lobes = northing >= 0 ? North : South;
        int i = 0;
        while (i < lobes.Length - 1 && lambda > lobes[i].East)
            i++;

        return lobes[i];
    }

    private static (double West, double East, double Centre)[] Lobes(params (double West, double East, double Centre)[] degrees) =>
        [.. degrees.Select(d => (double.DegreesToRadians(d.West), double.DegreesToRadians(d.East), double.DegreesToRadians(d.Centre)))];
}
