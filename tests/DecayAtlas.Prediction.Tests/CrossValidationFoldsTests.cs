namespace DecayAtlas.Prediction.Tests;

public class CrossValidationFoldsTests
{
    private static readonly TrainingSet Sites = InventedSites.Make(400, InventedSites.LinearTruth, 0.1);

    [Fact]
    public void A_block_and_a_site_are_never_split()
    {
        CrossValidationFolds folds = CrossValidationFolds.Blocked(Sites.Rows, 5, 1.0);
        Assert.All(
            Sites.Rows.Select((r, i) => (Block: (Math.Floor(r.LatitudeDegrees), Math.Floor(r.LongitudeDegrees)), Fold: folds.FoldOfRow[i]))
                .GroupBy(x => x.Block),
            block => Assert.Single(block.Select(x => x.Fold).Distinct()));
        foreach (CrossValidationFolds assignment in new[] { folds, CrossValidationFolds.Random(Sites.Rows, 5, 1) })
        {
            Assert.All(
                Sites.Rows.Select((r, i) => (r.SiteKey, Fold: assignment.FoldOfRow[i])).GroupBy(x => x.SiteKey),
                site => Assert.Single(site.Select(x => x.Fold).Distinct()));
        }
    }

    [Fact]
    public void A_site_whose_coordinates_drift_over_a_block_edge_stays_whole()
    {
        List<TrainingRow> rows = Sites.Rows.Take(20)
            .Append(Sites.Rows[0] with { LatitudeDegrees = Sites.Rows[0].LatitudeDegrees + 1, Campaign = "later" }).ToList();
        CrossValidationFolds folds = CrossValidationFolds.Blocked(rows, 3, 1.0);
        Assert.Equal(folds.FoldOfRow[0], folds.FoldOfRow[20]);
    }

    [Fact]
    public void Folds_hold_about_as_many_rows_each()
    {
        CrossValidationFolds folds = CrossValidationFolds.Blocked(Sites.Rows, 5, 1.0);
        List<int> sizes = folds.FoldOfRow.GroupBy(f => f).Select(g => g.Count()).ToList();
        Assert.Equal(5, sizes.Count);
        // Largest first to the emptiest: sizes differ by no more than one block, and no block here holds 25 rows.
        Assert.True(sizes.Max() - sizes.Min() < 25, $"sizes {string.Join(' ', sizes)}");
    }

    [Fact]
    public void The_180th_meridian_is_one_line_for_blocks() =>
        Assert.Equal(CrossValidationFolds.BlockOf(10.5, -180, 1), CrossValidationFolds.BlockOf(10.5, 180, 1));

    [Fact]
    public void Too_few_blocks_is_one_clear_sentence()
    {
        PredictionException e = Assert.Throws<PredictionException>(() => CrossValidationFolds.Blocked(Sites.Rows, 5, 90));
        Assert.Contains("spatial blocks of 90 degrees, expected at least 5", e.Message, StringComparison.Ordinal);
    }
}
