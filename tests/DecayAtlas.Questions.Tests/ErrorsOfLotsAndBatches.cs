namespace DecayAtlas.Questions.Tests;

/// <summary>What a shared error does must not depend on the k of the row it was computed at.</summary>
public class ErrorsOfLotsAndBatches
{
    private sealed class Tables : IReleasedRows
    {
        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => table.Name switch
            {
                "plots" => Of<TRow, ReleasedPlot>(Plot("a"), Plot("b")),
                "shared_errors" => Of<TRow, ReleasedSharedError>(
                    Error("a", "lot", "S-1", 0.1), Error("b", "lot", "S-1", 0.3), Error("a", "batch", "one", 0.02), Error("b", "batch", "two", 0.06)),
                _ => [],
            };

        private static ReleasedPlot Plot(string site) =>
            new() { SiteKey = site, Campaign = "2024", LnRateBurials = 1, LnRateMean = -4, RateState = "known" };

        private static ReleasedSharedError Error(string site, string by, string id, double onLnRate) => new()
        {
            SiteKey = site,
            Campaign = "2024",
            Evidence = "weighed",
            ErrorSet = "",
            SharedBy = by,
            SharedId = id,
            Quantity = $"{by}-water",
            OnLnRate = onLnRate,
            OnStabilisation = 0,
        };

        private static IReadOnlyList<TRow> Of<TRow, TOwn>(params TOwn[] rows) => [.. rows.Cast<TRow>()];
    }

    [Fact]
    public void Rows_of_one_lot_are_moved_alike_and_so_are_all_batches()
    {
        ReleasedRates rates = new(new Tables());
        // (0.1 + 0.3)/2 and (0.02 + 0.06)/2; batches are still errors of their own
        Assert.Equal(
            ["a: batch/one/batch-water 0.04, lot/S-1/lot-water 0.2", "b: batch/two/batch-water 0.04, lot/S-1/lot-water 0.2"],
            rates.Rows.Select(r => $"{r.SiteKey}: " + string.Join(", ", rates.RecordOf(r, [], []).Shared.OrderBy(s => s.Quantity, StringComparer.Ordinal)
                .Select(s => FormattableString.Invariant($"{s.Quantity} {s.OnFirst:0.###}")))));
    }
}
