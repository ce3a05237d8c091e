using MathNet.Numerics.Distributions;

namespace DecayAtlas.Prediction.Validation;

/// <summary>Moran's I: whether neighbouring sites have like residuals, so that something spatial is left unexplained.</summary>
/// <param name="I">Moran's I; about <paramref name="Expected"/> without pattern, above it where neighbours err alike.</param>
/// <param name="Expected">−1/(n − 1).</param>
/// <param name="StandardDeviation">Of I under random permutation of the values.</param>
/// <param name="P">Two-sided, by the normal approximation.</param>
/// <remarks>
/// Source: Moran 1950, Biometrika 37:17-23; variance under randomisation after Cliff and Ord 1981, Spatial Processes, section
/// 2.3. Weights: the nearest sites on the ellipsoid, each row summing to 1. Residuals of a fit are not free, so P is a guide.
/// </remarks>
public sealed record SpatialPattern(double I, double Expected, double StandardDeviation, double P, int Sites, int Neighbours)
{
    private const int MostNeighbours = 8;

    /// <summary>Of residuals averaged by site; missing with fewer than 10 sites, or where all residuals are equal.</summary>
    internal static SpatialPattern? OfSites(CovariateTable table, double[] residuals)
    {
        ((double, double) Place, double Mean)[] sites = [.. table.Rows.Select((row, r) => (row, Residual: residuals[r]))
            .GroupBy(x => x.row.SiteKey, StringComparer.Ordinal)
            .Select(g => ((g.First().row.LatitudeDegrees, g.First().row.LongitudeDegrees), g.Average(x => x.Residual)))];
        return sites.Length < 10 ? null : Of([.. sites.Select(s => s.Place)], [.. sites.Select(s => s.Mean)], MostNeighbours);
    }

    /// <summary>Of values at places in degrees (WGS 84).</summary>
    internal static SpatialPattern? Of((double Latitude, double Longitude)[] places, double[] values, int neighbours)
    {
        int n = places.Length;
        double[,] weights = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            foreach (int j in Enumerable.Range(0, n).Where(j => j != i).OrderBy(j => Apart(places[i], places[j])).ThenBy(j => j)
                .Take(neighbours))
            {
                weights[i, j] = 1.0 / neighbours;
            }
        }

        double mean = values.Average(), m2 = 0, m4 = 0, cross = 0;
        double[] z = [.. values.Select(v => v - mean)];
        foreach (double d in z)
            (m2, m4) = (m2 + d * d / n, m4 + d * d * d * d / n);
        if (!(m2 > 0))
            return null;
        double s0 = n, s1 = 0, s2 = 0;
        for (int i = 0; i < n; i++)
        {
            double both = 1;
            for (int j = 0; j < n; j++)
            {
                cross += weights[i, j] * z[i] * z[j];
                s1 += (weights[i, j] + weights[j, i]) * (weights[i, j] + weights[j, i]) / 2;
                both += weights[j, i];
            }
            s2 += both * both;
        }
        double value = cross / s0 / m2, expected = -1.0 / (n - 1), b2 = m4 / (m2 * m2);
        double square =
            (n * (((double)n * n - 3 * n + 3) * s1 - n * s2 + 3 * s0 * s0) - b2 * (((double)n * n - n) * s1 - 2 * n * s2 + 6 * s0 * s0))
            / ((n - 1.0) * (n - 2.0) * (n - 3.0) * s0 * s0);
        double sd = Math.Sqrt(square - expected * expected);
        if (!(sd > 0))
            return null;
        return new(value, expected, sd, 2 * Normal.CDF(0, 1, -Math.Abs(value - expected) / sd), n, neighbours);
    }

    /// <summary>Squared straight line through the Earth between two places on the WGS 84 ellipsoid, in units of its equatorial radius:
    /// ordered as the way over ground for neighbours.</summary>
    private static double Apart((double Latitude, double Longitude) a, (double Latitude, double Longitude) b)
    {
        ((double X, double Y, double Z) p, (double X, double Y, double Z) q) = (Place(a), Place(b));
        return (p.X - q.X) * (p.X - q.X) + (p.Y - q.Y) * (p.Y - q.Y) + (p.Z - q.Z) * (p.Z - q.Z);
    }

    private static (double X, double Y, double Z) Place((double Latitude, double Longitude) at)
    {
        const double eccentricitySquared = 0.00669437999014;
        double latitude = at.Latitude * Math.PI / 180, longitude = at.Longitude * Math.PI / 180;
        double normal = 1 / Math.Sqrt(1 - eccentricitySquared * Math.Sin(latitude) * Math.Sin(latitude));
        return (normal * Math.Cos(latitude) * Math.Cos(longitude), normal * Math.Cos(latitude)
            * Math.Sin(longitude), (1 - eccentricitySquared) * normal * Math.Sin(latitude));
    }
}
