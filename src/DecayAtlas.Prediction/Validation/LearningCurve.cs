namespace DecayAtlas.Prediction.Validation;

/// <summary>Error on held-out blocks when only a part of the other sites is trained on.</summary>
/// <param name="Share">Of the sites outside the held-out blocks; how many that is on average over folds.</param>
/// <param name="Rmse">Over all held-out rows, averaged over the draws.</param>
public sealed record LearningPoint(double Share, double MeanSites, double Rmse);

/// <summary>Would more sites help? Whole sites are drawn, smaller parts within larger ones.</summary>
internal static class LearningCurve
{
    private static readonly double[] Shares = [0.25, 0.5, 0.75, 1];
    private const int Draws = 2, FewestRows = 10;

    public static IReadOnlyList<LearningPoint> Of(Candidate candidate, Setting setting, CovariateTable table, CrossValidationFolds folds,
        TrainingOptions options)
    {
        List<LearningPoint> points = new();
        foreach (double share in Shares)
        {
            List<(int Draw, int Fold)> jobs = Enumerable.Range(0, share < 1 ? Draws : 1)
                .SelectMany(d => Enumerable.Range(0, folds.Count).Select(f => (Draw: d, Fold: f))).ToList();
            double[][] predicted = jobs.Select(j => j.Draw).Distinct().Select(_ => new double[table.Count]).ToArray();
            int[] sites = new int[jobs.Count];
            bool enough = true;
            Parallel.For(0, jobs.Count, job =>
            {
                (int draw, int fold) = jobs[job];
                List<int> rows = PartOf(table, folds.Training(fold), share, options.Seed + draw, out sites[job]);
                if (rows.Count < FewestRows)
                {
                    enough = false;
                    return;
                }
                try
                {
                    RatePredictor model = candidate.Fit(table.Subset(rows), setting, options).Predictor;
                    foreach (int row in folds.HeldOut(fold))
                        predicted[draw][row] = model.Predict(table.FeaturesOf(row), table.Places[row]);
                }
                catch (Exception e) when (MachineFault.In(e) is null)
                {
                    // A part may be too small for a candidate that all rows were enough for: the curve then begins later.
                    enough = false;
                }
            });
            double rmse = predicted.Average(p => ErrorMetrics.Of(table.Targets, p).Rmse);
            if (enough && double.IsFinite(rmse))
                points.Add(new(share, sites.Average(), rmse));
        }
        return points;
    }

    private static List<int> PartOf(CovariateTable table, IReadOnlyList<int> rows, double share, int seed, out int count)
    {
        string[] sites = [.. rows.Select(r => table.Rows[r].SiteKey).Distinct()];
        new Random(seed).Shuffle(sites);
        count = (int)Math.Round(share * sites.Length);
        HashSet<string> drawn = sites.Take(count).ToHashSet(StringComparer.Ordinal);
        return [.. rows.Where(r => drawn.Contains(table.Rows[r].SiteKey))];
    }
}
