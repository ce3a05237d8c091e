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

    /// <summary>Of more rows every n-th is looked at: pairs grow with their square.</summary>
    private const int MostRows = 2000;

    /// <summary>Share of the variance that has a spatial pattern, 0 to 1.</summary>
    public double StructuredShare => Nugget + Sill > 0 ? Sill / (Nugget + Sill) : 0;

    /// <summary>Correlation of the errors of two different places.</summary>
    public double At(double distanceMetres) => RangeMetres > 0 ? StructuredShare * Math.Exp(-distanceMetres / RangeMetres) : 0;

    /// <summary>Of what places themselves are off by: without what else makes held-out residuals differ, that is what the rows were
    /// measured wrong by, and what the choice of sites does to the model, which has a spatial pattern too.</summary>
    /// <param name="residuals">Of the rows of the table.</param>
    /// <param name="ofSites">By pair of members and row, how far the choice of sites moves what is predicted from covariates alone: a place
    /// that was seen is surer than one held out.</param>
    /// <param name="ofHeldOut">Variance from the choice of sites in predictions of held-out rows.</param>
    internal static ErrorCorrelation OfPlaces(CovariateTable table, IReadOnlyList<double> residuals, double[][] ofSites,
        double ofHeldOut)
    {
        int step = 1 + (table.Count - 1) / MostRows;
        int[] rows = [.. Enumerable.Range(0, table.Count).Where(r => r % step == 0)];
        Dictionary<string, double>[] batches = [.. rows.Select(r => table.Rows[r].Errors.Shared.Where(s => s.IsOfBatch)
            .GroupBy(s => s.Quantity, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.Sum(s => s.OnTarget)))];
        double seen = ofSites.Sum(pair => pair.Average(x => x * x)), heldOutOverSeen = seen > 0 ? ofHeldOut / seen : 1;
        return Of([.. rows.Select(r => new GeoPoint(table.Rows[r].LongitudeDegrees, table.Rows[r].LatitudeDegrees))],
            [.. rows.Select(r => residuals[r])], HalfKnown);

        double HalfKnown(int a, int b)
        {
            double own = table.Rows[rows[a]].Errors.OwnVariance + table.Rows[rows[b]].Errors.OwnVariance, batch = 0, model = 0;
            foreach ((string quantity, double effect) in batches[a])
                batch += Math.Pow(effect - batches[b].GetValueOrDefault(quantity), 2);
            batch += batches[b].Where(q => !batches[a].ContainsKey(q.Key)).Sum(q => q.Value * q.Value);
            for (int pair = 0; pair < ofSites.Length; pair++)
                model += Math.Pow(ofSites[pair][rows[a]] - ofSites[pair][rows[b]], 2);
            return (own + batch + heldOutOverSeen * model) / 2;
        }
    }

    /// <summary>Fits the residuals; their variance is all nugget where there is nothing to fit.</summary>
    /// <param name="halfKnown">Half the squared difference of two residuals that is expected from what else is known; none where it is
    /// missing.</param>
    internal static ErrorCorrelation Of(IReadOnlyList<GeoPoint> places, IReadOnlyList<double> residuals,
        Func<int, int, double>? halfKnown = null)
    {
        List<(double Distance, double Half, int Pairs)> classes = Empirical(places, residuals, halfKnown ?? ((_, _) => 0));
        if (classes.Count < 4)
        {
            double mean = residuals.Average();
            return new(residuals.Sum(r => (r - mean) * (r - mean)) / Math.Max(1, residuals.Count - 1), 0, 0);
        }

        double nearest = classes[0].Distance, farthest = classes[^1].Distance;
        (double Loss, double Nugget, double Sill, double Range) best = (double.PositiveInfinity, 0, 0, 0);
        for (int step = 0; step <= RangeSteps; step++)
        {
            double range = nearest / 3 * Math.Pow(3 * farthest / nearest, step / (double)RangeSteps);
            (double nugget, double sill, double loss) =
                Line([.. classes.Select(c => (1 - Math.Exp(-c.Distance / range), c.Half, c.Pairs / (c.Distance * c.Distance)))]);
            if (loss < best.Loss * (1 - 1e-12))
                best = (loss, nugget, sill, range);
        }
        return best.Sill > 0 ? new(best.Nugget, best.Sill, best.Range) : new(best.Nugget, 0, 0);
    }

    private static List<(double Distance, double Half, int Pairs)> Empirical(IReadOnlyList<GeoPoint> places,
        IReadOnlyList<double> residuals, Func<int, int, double> halfKnown)
    {
        double largest = 0;
        for (int a = 0; a < places.Count; a++)
        {
            for (int b = a + 1; b < places.Count; b++)
                largest = Math.Max(largest, places[a].GroundDistanceMetres(places[b]));
        }

        double width = largest / 3 / Classes;
        double[] distances = new double[Classes], halves = new double[Classes];
        int[] pairs = new int[Classes];
        for (int a = 0; a < places.Count; a++)
        {
            for (int b = a + 1; b < places.Count; b++)
            {
                double distance = places[a].GroundDistanceMetres(places[b]), difference = residuals[a] - residuals[b];
                if (!(distance > 0) || !(distance < width * Classes))
                    continue;
                int at = Math.Min(Classes - 1, (int)(distance / width));
                distances[at] += distance;
                halves[at] += difference * difference / 2 - halfKnown(a, b);
                pairs[at]++;
            }
        }
        return [.. Enumerable.Range(0, Classes).Where(c => pairs[c] > 0)
            .Select(c => (distances[c] / pairs[c], halves[c] / pairs[c], pairs[c]))];
    }

    /// <summary>Weighted least squares of y = a + b x with a and b not below 0.</summary>
    private static (double A, double B, double Loss) Line((double X, double Y, double Weight)[] points)
    {
        double w = points.Sum(p => p.Weight), x = points.Sum(p => p.Weight * p.X) / w, y = points.Sum(p => p.Weight * p.Y) / w;
        double xx = points.Sum(p => p.Weight * (p.X - x) * (p.X - x)), xy = points.Sum(p => p.Weight * (p.X - x) * (p.Y - y));
        double b = xx > 0 ? Math.Max(0, xy / xx) : 0, a = y - b * x;
        if (a < 0)
            (a, b) = (0, Math.Max(0, points.Sum(p => p.Weight * p.X * p.Y) / points.Sum(p => p.Weight * p.X * p.X)));
        return (a, b, points.Sum(p => p.Weight * (p.Y - a - b * p.X) * (p.Y - a - b * p.X)));
    }
}
