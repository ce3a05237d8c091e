namespace DecayAtlas.Grids.Projections;

/// <summary>
/// An ellipsoid of revolution (or a sphere) and the auxiliary latitudes that map projections are made of. Angles in
/// radians, lengths in metres. Formulas: Snyder 1987, USGS Professional Paper 1395, chapter 3; inverses are iterated to
/// the last digits and not cut off after a few terms.
/// </summary>
internal sealed record Ellipsoid
{
    public static readonly Ellipsoid Wgs84 = new(6_378_137, 298.257223563);
    public static readonly Ellipsoid Grs80 = new(6_378_137, 298.257222101);

    /// <param name="inverseFlattening">1/f; 0 for a sphere, as in well-known text.</param>
    public Ellipsoid(double semiMajorAxis, double inverseFlattening)
    {
        A = semiMajorAxis;
        InverseFlattening = inverseFlattening;
        double f = inverseFlattening == 0 ? 0 : 1 / inverseFlattening;
        E2 = f * (2 - f);
        E = Math.Sqrt(E2);
        N = f / (2 - f);
        PolarQ = Q(1);
    }

    public double A { get; }

    public double InverseFlattening { get; }

    public bool IsSphere => E2 == 0;

    public double E2 { get; }

    public double E { get; }

    /// <summary>Third flattening (a - b)/(a + b).</summary>
    public double N { get; }

    public double PolarQ { get; }

    public Ellipsoid ToSphere() => new(A, 0);

    /// <summary>Radius of the parallel over the equatorial radius: cos phi / sqrt(1 - e2 sin2 phi) (Snyder 14-15).</summary>
    public double ParallelRadius(double phi)
    {
        double s = Math.Sin(phi);
        return Math.Cos(phi) / Math.Sqrt(1 - E2 * s * s);
    }

    /// <summary>Twice the area from the equator to a latitude over 2 pi a2, of the sine of the latitude (Snyder 3-12).</summary>
    public double Q(double sinPhi) => IsSphere
        ? 2 * sinPhi
        : (1 - E2) * (sinPhi / (1 - E2 * sinPhi * sinPhi) + Math.Atanh(E * sinPhi) / E);

    /// <summary>Latitude of an authalic latitude: the series (3-18), then Newton steps on (3-12) where it is well conditioned.</summary>
    public double FromAuthalic(double beta)
    {
        if (IsSphere)
            return beta;

        double e4 = E2 * E2;
        double e6 = e4 * E2;
        double phi = beta
            + (E2 / 3 + 31 * e4 / 180 + 517 * e6 / 5040) * Math.Sin(2 * beta)
            + (23 * e4 / 360 + 251 * e6 / 3780) * Math.Sin(4 * beta)
            + 761 * e6 / 45360 * Math.Sin(6 * beta);
        double target = PolarQ * Math.Sin(beta);
        for (int i = 0; i < 3 && Math.Cos(phi) > 1e-3; i++)
        {
            double s = Math.Sin(phi);
            double w = 1 - E2 * s * s;
            phi += (target - Q(s)) * w * w / (2 * (1 - E2) * Math.Cos(phi));
        }

        return phi;
    }

    /// <summary>Tangent of the conformal latitude of the tangent of a latitude (Karney 2011, eq. 7-9).</summary>
    public double ConformalTangent(double tau)
    {
        double root = Hypot1(tau);
        double sigma = Math.Sinh(E * Math.Atanh(E * tau / root));
        return tau * Hypot1(sigma) - sigma * root;
    }

    /// <summary>The way back from <see cref="ConformalTangent"/> by Newton's method (Karney 2011, eq. 19-21).</summary>
    public double FromConformalTangent(double conformal)
    {
        if (IsSphere)
            return conformal;

        // Close to the pole the ratio is constant and the step below would only lose digits.
        if (Math.Abs(conformal) > 1e8)
            return conformal * Math.Exp(E * Math.Atanh(E));

        double tau = conformal / (1 - E2);
        for (int i = 0; i < 8; i++)
        {
            double reached = ConformalTangent(tau);
            double step = (conformal - reached) / Hypot1(reached) * (1 + (1 - E2) * tau * tau) / ((1 - E2) * Hypot1(tau));
            tau += step;
            if (Math.Abs(step) < 1e-15 * Math.Max(1, Math.Abs(tau)))
                break;
        }

        return tau;
    }

    /// <summary>Isometric latitude, the ordinate of the Mercator projection over the radius (Snyder 7-7).</summary>
    public double Isometric(double phi) => Math.Asinh(ConformalTangent(Math.Tan(phi)));

    public double FromIsometric(double psi) => Math.Atan(FromConformalTangent(Math.Sinh(psi)));

    private static double Hypot1(double x) => Math.Sqrt(1 + x * x);
}
