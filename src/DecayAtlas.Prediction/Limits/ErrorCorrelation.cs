namespace DecayAtlas.Prediction.Limits;

/// <summary>
/// How alike the model's errors are at two places: exponential variogram nugget + sill (1 - exp(-distance / range)) of the held-out
/// residuals of ln k. Saved with the model, since the mean of a region is surer the less alike its errors are.
/// </summary>
/// <remarks>
/// Empirical variogram: Matheron 1963 (half the mean squared difference of pairs), 15 classes of distance up to a third of the largest,
/// pairs at one place left out. Fit: least squares weighted by pairs over distance squared, the weights that are usual in
/// geostatistical software; nugget and sill not below 0; range searched over 60 steps. Common practice, no single source.
/// </remarks>
/// <param name="Nugget">Variance without spatial pattern, (ln k)².</param>
/// <param name="Sill">Variance with one, (ln k)².</param>
/// <param name="RangeMetres">Distance over which the likeness falls to 1/e; 0 where there is no pattern.</param>
public sealed record ErrorCorrelation(double Nugget, double Sill, double RangeMetres)
{
    private const int Classes = 15, RangeSteps = 60;

    /// <summary>Share of the variance that has a spatial pattern, 0 to 1.</summary>
    public double StructuredShare => Nugget + Sill > 0 ? Sill / (Nugget + Sill) : 0;

    /// <summary>Correlation of the errors of two different places.</summary>
    public double At(double distanceMetres) => RangeMetres > 0 ? StructuredShare * Math.Exp(-distanceMetres / RangeMetres) : 0;

    /// <summary>Without what the rows were measured wrong by: places themselves.</summary>
    /// <param name="own">Variance that a row shares with no other.</param>
    /// <param name="batch">Variance that a row shares with those of its batch, which mostly lie near it.</param>
    internal ErrorCorrelation Without(double own, double batch) => RangeMetres > 0
        ? this with { Nugget = Math.Max(0, Nugget - own), Sill = Math.Max(0, Sill - batch) }
        : this with { Nugget = Math.Max(0, Nugget - own - batch) };

    /// <summary>Fits the residuals; their variance is all nugget where there is nothing to fit.</summary>
    internal static ErrorCorrelation Of(IReadOnlyList<GeoPoint> places, IReadOnlyList<double> residuals)
    {
        double mean = residuals.Average(), variance = residuals.Sum(r => (r - mean) * (r - mean)) / Math.Max(1, residuals.Count - 1);
        List<(double Distance, double Half, int Pairs)> classes = Empirical(places, residuals);
        if (classes.Count < 4)
            return new(variance, 0, 0);
        double nearest = classes[0].Distance, farthest = classes[^1].Distance;
        (double Loss, double Nugget, double Sill, double Range) best = (double.PositiveInfinity, variance, 0, 0);
        for (int step = 0; step <= RangeSteps; step++)
        {
            double range = nearest / 3 * Math.Pow(3 * farthest / nearest, step / (double)RangeSteps);
            (double nugget, double sill, double loss) =
                Line([.. classes.Select(c => (1 - Math.Exp(-c.Distance / range), c.Half, c.Pairs / (c.Distance * c.Distance)))]);
            if (loss < best.Loss * (1 - 1e-12))
                best = (loss, nugget, sill, range);
        }
        return best.Sill > 0 ? new(best.Nugget, best.Sill, best.Range) : new(variance, 0, 0);
    }

    private static List<(double Distance, double Half, int Pairs)> Empirical(IReadOnlyList<GeoPoint> places,
        IReadOnlyList<double> residuals)
    {
        List<(double Distance, double Square)> distances = new();
        double largest = 0;
        for (int a = 0; a < places.Count; a++)
        {
            for (int b = a + 1; b < places.Count; b++)
            {
                double distance = places[a].GroundDistanceMetres(places[b]), difference = residuals[a] - residuals[b];
                if (distance > 0)
                    distances.Add((distance, difference * difference));
                largest = Math.Max(largest, distance);
            }
        }

        double width = largest / 3 / Classes;
        return [.. distances.Where(d => d.Distance < width * Classes).GroupBy(d => (int)(d.Distance / width)).OrderBy(g => g.Key)
            .Select(g => (g.Average(d => d.Distance), g.Average(d => d.Square) / 2, g.Count()))];
    }

    /// <summary>Weighted least squares of y = a + b x with a and b not below 0.</summary>
    private static (double A, double B, double Loss) Line((double X, double Y, double Weight)[] points)
    {
        double w = points.Sum(p => p.Weight), x = points.Sum(p => p.Weight * p.X) / w, y = points.Sum(p => p.Weight * p.Y) / w;
        double xx = points.Sum(p => p.Weight * (p.X - x) * (p.X - x)), xy = points.Sum(p => p.Weight * (p.X - x) * (p.Y - y));
        double b = xx > 0 ? Math.Max(0, xy / xx) : 0, a = y - b * x;
        if (a < 0)
            (a, b) = (0, points.Sum(p => p.Weight * p.X * p.Y) / points.Sum(p => p.Weight * p.X * p.X));
        return (a, b, points.Sum(p => p.Weight * (p.Y - a - b * p.X) * (p.Y - a - b * p.X)));
    }
}
