namespace DecayAtlas.Prediction.Tests;

public class PredictionIntervalTests
{
    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    /// <summary>Coverage of a new value, over many calibrations: the promise of split conformal prediction (Lei et al. 2018, theorem 2) is
    /// [level, level + 1/(n + 1)] on average.</summary>
    private static double SimulatedCoverage(int rows, double level, Func<double, double> sdAt, int times)
    {
        Random random = new(rows);
        int inside = 0;
        for (int t = 0; t < times; t++)
        {
            double[] index = [.. Enumerable.Range(0, rows).Select(_ => random.NextDouble())];
            PredictionInterval interval = PredictionInterval.Of(level, [.. index.Select(d => sdAt(d) * Normal(random))], index);
            double at = random.NextDouble();
            inside += Math.Abs(sdAt(at) * Normal(random)) <= interval.HalfWidthAt(at) ? 1 : 0;
        }
        return inside / (double)times;
    }

    [Theory]
    [InlineData(50, 0.9)]
    [InlineData(300, 0.9)]
    [InlineData(300, 0.5)]
    public void The_interval_holds_its_level_whether_or_not_the_error_grows_with_dissimilarity(int rows, double level)
    {
        // 8000 draws: the standard error of the share is at most 0.006.
        foreach (Func<double, double> sd in new Func<double, double>[] { _ => 0.3, d => 0.1 + 0.5 * d })
            Assert.Equal(level, SimulatedCoverage(rows, level, sd, 8000), 0.025);
    }

    [Fact]
    public void Where_the_error_grows_with_dissimilarity_the_interval_widens_and_near_and_far_places_are_held_alike()
    {
        Random random = new(9);
        double[] index = [.. Enumerable.Range(0, 4000).Select(_ => random.NextDouble())];
        double[] residuals = [.. index.Select(d => (0.1 + 0.5 * d) * Normal(random))];
        PredictionInterval interval = PredictionInterval.Of(0.9, residuals, index);
        Assert.True(interval.HalfWidthAt(1) > 3 * interval.HalfWidthAt(0));
        foreach (bool near in new[] { true, false })
        {
            int[] group = [.. Enumerable.Range(0, 4000).Where(r => near ? index[r] < 0.3 : index[r] > 0.7)];
            Assert.Equal(0.9, group.Count(r => Math.Abs(residuals[r]) <= interval.HalfWidthAt(index[r])) / (double)group.Length, 0.03);
        }
    }

    [Fact]
    public void Where_the_error_falls_with_dissimilarity_the_interval_stays_as_wide() =>
        Assert.Equal(0,
            PredictionInterval.Of(
                0.9, [.. Enumerable.Range(1, 50).Select(i => 1.0 / i)], [.. Enumerable.Range(1, 50).Select(i => (double)i)]).Slope);

    [Fact]
    public void Too_few_rows_for_the_level_give_an_endless_interval() =>
        Assert.True(double.IsPositiveInfinity(PredictionInterval.Of(0.9, [0.1, -0.2, 0.3], [0.1, 0.2, 0.3]).HalfWidthAt(0.1)));

    /// <summary>Twelve rows of either spelling are too few for themselves, and enough together.</summary>
    [Fact]
    public void A_kind_is_one_however_its_capitals_are_written()
    {
        Random random = new(5);
        string[] kinds = [.. Enumerable.Range(0, 60).Select(i => i < 12 ? "Forest" : i < 25 ? "forest " : "bog")];
        double[] residuals = [.. kinds.Select(k => (k == "bog" ? 0.1 : 1) * Normal(random))], index = new double[60];
        PredictionInterval interval = PredictionInterval.Of(0.9, residuals, index, kinds);
        Assert.Equal([("bog", 35), ("forest", 25)], interval.Kinds.Select(k => (k.Kind, k.Rows)));
        double forest = interval.HalfWidthAt(0, "forest");
        Assert.True(forest > 3 * interval.HalfWidthAt(0, "bog"));
        Assert.All(new[] { "Forest", "FOREST ", " fOrest" }, k => Assert.Equal(forest, interval.HalfWidthAt(0, k)));
        Assert.Equal(interval.HalfWidthAt(0), interval.HalfWidthAt(0, "forests"));
    }

    [Fact]
    public void Coverage_of_a_row_never_uses_its_own_fold()
    {
        // One fold errs ten times as much as the others; calibrated by them, its rows must mostly fall outside.
        CovariateTable table = CovariateTable.Of(InventedSites.Make(200, InventedSites.LinearTruth, 0.1));
        CrossValidationFolds folds = CrossValidationFolds.Blocked(table.Rows, 4, 1.0);
        Random random = new(3);
        double[] residuals = [.. folds.FoldOfRow.Select(f => (f == 0 ? 10 : 1) * Normal(random))];
        bool[] inside = CoverageCheck.Inside(0.9, residuals, new double[200], folds);
        Assert.True(folds.HeldOut(0).Count(r => inside[r]) < 0.4 * folds.HeldOut(0).Count);
        Assert.True(folds.HeldOut(1).All(r => inside[r]));
    }

    /// <summary>Outside source: R, qbinom(0.025, rows, level) / rows.</summary>
    [Theory]
    [InlineData(20, 0.9, 0.75)]
    [InlineData(10, 0.9, 0.7)]
    [InlineData(1, 0.9, 0)]
    [InlineData(1, 0.99, 1)]
    public void The_lowest_share_that_chance_explains_is_the_quantile_of_the_binomial(int rows, double level, double share) =>
        Assert.Equal(share, CardFindings.LowestByChance(rows, level), 1e-12);
}
