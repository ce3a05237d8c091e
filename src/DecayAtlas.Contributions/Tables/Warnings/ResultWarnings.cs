namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>Rows of results that can be read but are not compared with others as they stand. Told, and no ground to refuse.</summary>
internal static class ResultWarnings
{
    public static IReadOnlyList<Finding> Of(IEnumerable<ResultRow> results, string file, string? sheet)
    {
        FindingList warnings = new();
        foreach (ResultRow row in results)
        {
            string[] absent = [.. AbsentOf(row)];
            if (absent.Length > 0)
            {
                string evidence = row.Evidence.ToString().ToLowerInvariant();
                Add(FindingCode.ResultIncomplete, absent[0],
                    $"a {evidence} row {FindingText.Quote(row.ResultId)} without {string.Join(", ", absent)}",
                    row.Evidence == EvidenceKind.Reported ? "k and S with their errors, what the errors are, and the method"
                        : "mean and standard deviation of both remaining fractions, both lots, and an exposure",
                    $"fill in {string.Join(", ", absent)} if you know it");
            }

            if (row.OtherDaysByDates(ResultRow.MostDaysApart) is { } days)
            {
                Add(FindingCode.ResultDaysDiffer, "exposure_days", Invariant($"{row.ExposureDays} with dates {days} days apart"),
                    "the mean exposure that the dates are in the middle of", "correct the exposure or the dates");
            }

            if (row.Evidence == EvidenceKind.Summarised && (row.RatePerDay is not null || row.Stabilisation is not null))
            {
                Add(FindingCode.ResultOfTwoKinds, row.RatePerDay is not null ? "k_per_day" : "s",
                    "a summarised row with k or S, which are computed from its means and not taken from it",
                    "means of remaining fractions alone", "send your own k and S in a row of their own, with evidence reported");
            }

            if (row.IsWithoutScatter)
            {
                Add(FindingCode.ResultWithoutScatter, "burials", Invariant($"{row.Burials} burials with a standard deviation of 0"),
                    "a scatter above 0: weighed burials do not agree to the last digit",
                    "leave the standard deviation empty if it is not known; say burials 1 if it was one");
            }

            void Add(string code, string column, string found, string expected, string mend) =>
                warnings.Add(new Finding(code, file, row.Row, column, found, expected, mend) { Sheet = sheet });
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
                // one burial does not scatter
                (row.FastRemainingMean is not null, "fast_remaining_mean"),
                (row.FastRemainingSd is not null || row.Burials == 1, "fast_remaining_sd"),
                (row.SlowRemainingMean is not null, "slow_remaining_mean"),
                (row.SlowRemainingSd is not null || row.Burials == 1, "slow_remaining_sd"),
                (row.FastLotId is not null, "fast_lot_id"), (row.SlowLotId is not null, "slow_lot_id"),
                (row.Exposure is not null, "retrieved_on"),
            ];
        return asked.Where(x => !x.IsThere).Select(x => x.Column);
    }
}
