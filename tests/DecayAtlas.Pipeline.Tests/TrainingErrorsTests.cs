namespace DecayAtlas.Pipeline.Tests;

/// <summary>What a row of a training set may be off by, worked by hand from the released rows.</summary>
public class TrainingErrorsTests
{
    private sealed class Release : IReleasedRows
    {
        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => typeof(TRow) == typeof(ReleasedPlot) ? [.. Plots.Cast<TRow>()]
            : typeof(TRow) == typeof(ReleasedSharedError) ? [.. Shared.Cast<TRow>()] : [];

        // three burials of one set of errors with weighings good to 0.06, one of another with 0.02
        private static IEnumerable<ReleasedPlot> Plots => [Plot("a", 3, 0.06), Plot("b", 1, 0.02)];

        private static IEnumerable<ReleasedSharedError> Shared =>
        [
            Error("a", "lot", "F1", "fast-hydrolysable", 0.08), Error("b", "lot", "F1", "fast-hydrolysable", 0.04),
            Error("a", "batch", "x", "slow-initial-water-range", 0.10),
        ];

        private static ReleasedPlot Plot(string set, int burials, double weighing) => new()
        {
            SiteKey = "s",
            Campaign = "c",
            ErrorSet = set,
            LnRateBurials = burials,
            LnRateMean = -4,
            LnRateUncertaintyBag = weighing,
        };

        private static ReleasedSharedError Error(string set, string by, string id, string quantity, double onLnRate) => new()
        {
            SiteKey = "s",
            Campaign = "c",
            Evidence = "weighed",
            ErrorSet = set,
            SharedBy = by,
            SharedId = id,
            Quantity = quantity,
            OnLnRate = onLnRate,
            OnStabilisation = 0,
        };
    }

    private static ReleasedSiteCampaign At => new()
    {
        SiteKey = "s",
        Campaign = "c",
        Burials = 4,
        RateBurials = 4,
        RateNotPositiveBurials = 0,
        RateAtLeastBurials = 0,
        LnRateBurials = 4,
        StabilisationBurials = 0,
    };

    /// <summary>Scatter pooled over sds of 0.1 (2 burials) and 0.2 (4): (0.01 + 3 · 0.04)/4 = 0.0325. Weighings: (3 · 0.0036 + 0.0004)/4 =
    /// 0.0028 here and over all, so that they cancel, and a mean of 4 has 0.0325/4.</summary>
    [Fact]
    public void A_mean_of_weighed_burials_is_off_by_their_pooled_scatter_over_their_number()
    {
        RowErrors errors = new TrainingErrors(new Release(), true, [(0.1, 2), (0.2, 4), (null, 1)]).Of(At, null, 4, ["x"]);
        Assert.Equal(0.0325 / 4, errors.OwnVariance, 12);
        Assert.Equal([0.0], errors.CovariateSds);
    }

    [Fact]
    public void Burials_share_what_their_lots_and_batches_do_by_their_number()
    {
        RowErrors errors = new TrainingErrors(new Release(), true, [(0.1, 2)]).Of(At, null, 4, []);
        Assert.Equal(2, errors.Shared.Count);
        (SharedError batch, SharedError lot) = (errors.Shared[0], errors.Shared[1]);
        Assert.Equal(("batch/x/slow-initial-water-range", true, true), (batch.Quantity, batch.IsOfBatch, batch.IsRange));
        Assert.Equal(0.075, batch.OnTarget, 12);    // 3 of 4 burials
        Assert.Equal(("lot/F1/fast-hydrolysable", false, false), (lot.Quantity, lot.IsOfBatch, lot.IsRange));
        Assert.Equal(0.07, lot.OnTarget, 12);       // (3 · 0.08 + 0.04)/4
    }

    [Fact]
    public void A_mean_that_was_sent_is_off_by_its_own_scatter() => Assert.Equal(0.3 * 0.3 / 9,
        new TrainingErrors(new Release(), true, [(0.1, 2)]).Of(At, 0.3, 9, []).OwnVariance, 12);
}
