namespace DecayAtlas.Grids.Projections;

/// <summary>
/// Krueger's series between the conformal sphere and the transverse Mercator plane to the sixth order in the third
/// flattening (Karney 2011, Journal of Geodesy 85:475-485, eq. 11, 14, 35, 36): nanometres within 35 degrees of the meridian.
/// On the meridian itself they give the distance from the equator.
/// </summary>
internal sealed class KruegerSeries
{
    private readonly double[] _forward;
    private readonly double[] _inverse;

    public KruegerSeries(Ellipsoid ellipsoid)
    {
        double n = ellipsoid.N;
        double n2 = n * n, n3 = n2 * n, n4 = n3 * n, n5 = n4 * n, n6 = n5 * n;
        Radius = ellipsoid.A / (1 + n) * (1 + n2 / 4 + n4 / 64 + n6 / 256);
        _forward =
        [
            n / 2 - 2 * n2 / 3 + 5 * n3 / 16 + 41 * n4 / 180 - 127 * n5 / 288 + 7891 * n6 / 37800,
            13 * n2 / 48 - 3 * n3 / 5 + 557 * n4 / 1440 + 281 * n5 / 630 - 1983433 * n6 / 1935360,
            61 * n3 / 240 - 103 * n4 / 140 + 15061 * n5 / 26880 + 167603 * n6 / 181440,
            49561 * n4 / 161280 - 179 * n5 / 168 + 6601661 * n6 / 7257600,
            34729 * n5 / 80640 - 3418889 * n6 / 1995840,
            212378941 * n6 / 319334400,
        ];
        _inverse =
        [
            n / 2 - 2 * n2 / 3 + 37 * n3 / 96 - n4 / 360 - 81 * n5 / 512 + 96199 * n6 / 604800,
            n2 / 48 + n3 / 15 - 437 * n4 / 1440 + 46 * n5 / 105 - 1118711 * n6 / 3870720,
            17 * n3 / 480 - 37 * n4 / 840 - 209 * n5 / 4480 + 5569 * n6 / 90720,
            4397 * n4 / 161280 - 11 * n5 / 504 - 830251 * n6 / 7257600,
            4583 * n5 / 161280 - 108847 * n6 / 3991680,
            20648693 * n6 / 638668800,
        ];
    }

    /// <summary>Radius of the rectifying sphere, metres.</summary>
    public double Radius { get; }

    /// <summary>From the conformal sphere to the plane, both over the radius.</summary>
    public (double Xi, double Eta) Forward(double xi, double eta) => Sum(_forward, xi, eta, 1);

    public (double Xi, double Eta) Inverse(double xi, double eta) => Sum(_inverse, xi, eta, -1);

    private static (double Xi, double Eta) Sum(double[] terms, double xi, double eta, int sign)
    {
        double x = xi, y = eta;
        for (int j = 1; j <= terms.Length; j++)
        {
            x += sign * terms[j - 1] * Math.Sin(2 * j * xi) * Math.Cosh(2 * j * eta);
            y += sign * terms[j - 1] * Math.Cos(2 * j * xi) * Math.Sinh(2 * j * eta);
        }

        return (x, y);
    }
}

/// <summary>Transverse Mercator, which UTM is made of (Karney 2011; Snyder 1987, chapter 8, gives the same to a millimetre in a
/// zone).</summary>
internal sealed class TransverseMercator : PlaneMethod
{
    /// <summary>Further from the meridian than this no map of the kind is drawn, and the series loses its digits.</summary>
    private const double MaxLambda = Math.PI / 4;

    private readonly Ellipsoid _ellipsoid;
    private readonly KruegerSeries _series;
    private readonly double _scale;
    private readonly double _origin;

    public TransverseMercator(Ellipsoid ellipsoid, double latitudeOfOrigin, double scale)
    {
        _ellipsoid = ellipsoid;
        _series = new KruegerSeries(ellipsoid);
        _scale = scale * _series.Radius;
        _origin = _series.Forward(Math.Atan(ellipsoid.ConformalTangent(Math.Tan(latitudeOfOrigin))), 0).Xi;
    }

    public override bool Forward(double lambda, double phi, out double x, out double y)
    {
        double tau = _ellipsoid.ConformalTangent(Math.Tan(phi));
        double cos = Math.Cos(lambda);
        (double xi, double eta) = _series.Forward(
            Math.Atan2(tau, cos), Math.Asinh(Math.Sin(lambda) / Math.Sqrt(tau * tau + cos * cos)));
        x = _scale * eta;
        y = _scale * (xi - _origin);
        return Math.Abs(lambda) <= MaxLambda;
    }

    public override bool Inverse(double x, double y, out double lambda, out double phi)
    {
        (double xi, double eta) = _series.Inverse(y / _scale + _origin, x / _scale);
        double sinh = Math.Sinh(eta);
        double cos = Math.Cos(xi);
        lambda = Math.Atan2(sinh, cos);
        phi = Math.Atan(_ellipsoid.FromConformalTangent(Math.Sin(xi) / Math.Sqrt(sinh * sinh + cos * cos)));
        return Math.Abs(lambda) <= MaxLambda;
    }
}
