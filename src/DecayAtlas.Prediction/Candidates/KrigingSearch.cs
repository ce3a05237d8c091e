namespace DecayAtlas.Prediction.Candidates;

/// <summary>
/// The variances under which the rows are likeliest, the trend taken off as it is fitted with them: restricted maximum likelihood
/// (Patterson and Thompson 1971, Biometrika 58:545-554, from memory). The variance of the slopes is searched within each trial of the
/// others, since that costs no factor of the rows.
/// </summary>
internal static class KrigingSearch
{
    /// <summary>Of more sites evenly spaced ones are asked: variances are found well enough from so many.</summary>
    private const int MostSites = 300;

    /// <summary>Longer ranges can't be told from a slope across all sites (a third, as in variograms: common practice, no
    /// source).</summary>
    private const double LongestShare = 1.0 / 3;

    private const double LeastShare = 1e-4, MostShare = 100;
    private const int MostTrials = 240;

    /// <param name="terms">The terms of each row, standardised, the intercept first, and its target last.</param>
    /// <param name="slopes">Variance of the slopes where it is given, infinite for free ones; searched where it is not.</param>
    /// <exception cref="PredictionException">All sites lie at one place.</exception>
    public static KrigingVariances Reml(IReadOnlyList<TrainingRow> all, double[][] terms, double? slopes = null,
        double tolerance = 0.05)
    {
        (IReadOnlyList<TrainingRow> some, double[][] ofSome) = Thinned(all, terms);
        KrigingRows rows = KrigingRows.Of(some);
        double longest = LongestShare * rows.LongestChordMetres, shortest = longest / 100;
        if (!(longest > 0))
            throw new PredictionException("All sites lie at one place, so nothing tells how they differ in space.");
        double mean = ofSome.Average(t => t[^1]), scale = ofSome.Average(t => (t[^1] - mean) * (t[^1] - mean));
        double unit = rows.Scales.Average(s => 1 / s);
        if (!(scale > 0))
            throw new PredictionException("All rows have the same value, so nothing tells how they differ in space.");

        // the best of some ranges to start from: there may be a short one and a long one
        double[] ranges = [0.7, 0.2, 0.06];
        double[][] starts = [.. ranges.Select(r => new[] { Math.Log(0.1), Math.Log(r), Math.Log(0.1), Math.Log(0.1) })];
        double[] start = starts.MinBy(Criterion)!;
        return VariancesAt(SimplexSearch.Minimise(Criterion, start, 1, tolerance, MostTrials).At);

        double Criterion(double[] logs) => Fit(logs)?.Criterion + Outside(logs) ?? double.PositiveInfinity;

        KrigingVariances VariancesAt(double[] logs) => Fit(logs)!.Value.Variances;

        (KrigingVariances Variances, double Criterion)? Fit(double[] logs)
        {
            KrigingVariances v = new(scale * Share(logs[0]), Math.Clamp(longest * Math.Exp(logs[1]), shortest, longest),
                scale * Share(logs[2]), unit * scale * Share(logs[3]), slopes ?? scale);
            if (KrigingCovariance.Of(rows, v) is not { } covariance)
                return null;
            double[][] cross = covariance.Cross(ofSome);
            double best = slopes ?? SlopesOf(cross);
            return KrigingTrend.Of(cross, best) is { } trend
                ? (v with { Slopes = best }, covariance.LogDeterminant + trend.Criterion) : null;
        }

        // the likelihood is flat beyond the bounds, and the search is to come back
        double Outside(double[] logs) => logs.Select((x, i) => i == 1
            ? Beyond(x, Math.Log(shortest / longest), 0) : Beyond(x, Math.Log(LeastShare), Math.Log(MostShare))).Sum();

        double SlopesOf(double[][] cross)
        {
            double At(double log) => KrigingTrend.Of(cross, scale * Math.Exp(log))?.Criterion ?? double.PositiveInfinity;
            double best = Enumerable.Range(-9, 14).Select(x => (double)x).MinBy(At);
            (double low, double high) = (best - 1, best + 1);
            double golden = (Math.Sqrt(5) - 1) / 2, a = high - golden * (high - low), b = low + golden * (high - low);
            (double atA, double atB) = (At(a), At(b));
            while (high - low > 0.01)
            {
                if (atA < atB)
                    (high, b, atB, a) = (b, a, atA, b - golden * (b - low));
                else
                    (low, a, atA, b) = (a, b, atB, a + golden * (high - a));
                (atA, atB) = (At(a), At(b));
            }
            return scale * Math.Exp((low + high) / 2);
        }
    }

    private static double Share(double log) => Math.Clamp(Math.Exp(log), LeastShare, MostShare);

    private static double Beyond(double x, double least, double most) => x < least ? least - x : x > most ? x - most : 0;

    private static (IReadOnlyList<TrainingRow>, double[][]) Thinned(IReadOnlyList<TrainingRow> all, double[][] terms)
    {
        string[] sites = [.. all.Select(r => r.SiteKey).Distinct(StringComparer.Ordinal)];
        if (sites.Length <= MostSites)
            return (all, terms);
        HashSet<string> taken = [.. Enumerable.Range(0, MostSites).Select(i => sites[(int)((long)i * sites.Length / MostSites)])];
        int[] rows = [.. Enumerable.Range(0, all.Count).Where(r => taken.Contains(all[r].SiteKey))];
        return ([.. rows.Select(r => all[r])], [.. rows.Select(r => terms[r])]);
    }
}
