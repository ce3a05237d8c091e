namespace DecayAtlas.Contributions.Tables;

/// <summary>Rows of results that can be read but are not compared with others as they stand. Told, and no ground to refuse.</summary>
internal static class ResultWarnings
{
    public static IReadOnlyList<Finding> Of(IEnumerable<ResultRow> results, string file, string? sheet)
    {
        FindingList warnings = new();
        foreach (ResultRow row in results)
        {
            string[] absent = [.. AbsentOf(row)];
            if (absent.Length == 0)
                continue;
            string evidence = row.Evidence.ToString().ToLowerInvariant();
            warnings.Add(new Finding(FindingCode.ResultIncomplete, file, row.Row, absent[0],
                $"a {evidence} row {FindingText.Quote(row.ResultId)} without {string.Join(", ", absent)}",
                row.Evidence == EvidenceKind.Reported ? "k and S with their errors, what the errors are, and the method"
                    : "mean and standard deviation of both remaining fractions, both lots, and an exposure",
                $"fill in {string.Join(", ", absent)} if you know it")
            { Sheet = sheet });
        }

        return warnings.Close(file);
    }

    private static IEnumerable<string> AbsentOf(ResultRow row)
    {
        (bool IsThere, string Column)[] asked = row.Evidence == EvidenceKind.Reported
            ?
            [
                (row.RatePerDay is not null, "k_per_day"), (row.RateErrorPerDay is not null, "k_error_per_day"),
                (row.Stabilisation is not null, "s"), (row.StabilisationError is not null, "s_error"),
                (row.ErrorsAre is not null, "errors_are"), (row.Method is not null, "method"),
            ]
            :
            [
                (row.FastRemainingMean is not null, "fast_remaining_mean"), (row.FastRemainingSd is not null, "fast_remaining_sd"),
                (row.SlowRemainingMean is not null, "slow_remaining_mean"), (row.SlowRemainingSd is not null, "slow_remaining_sd"),
                (row.FastLotId is not null, "fast_lot_id"), (row.SlowLotId is not null, "slow_lot_id"),
                (row.Exposure is not null, "retrieved_on"),
            ];
        return asked.Where(x => !x.IsThere).Select(x => x.Column);
    }
}
