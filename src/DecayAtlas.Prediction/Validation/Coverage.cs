namespace DecayAtlas.Prediction.Validation;

/// <summary>How often the interval held what was held out, and the RMSE on the scale of the target.</summary>
/// <param name="Group">Which rows: all, inside or outside the area of applicability, or an ecosystem.</param>
public sealed record Coverage(string Group, string Title, int Rows, double Share, double Rmse);

/// <summary>Error and coverage of rows of like dissimilarity.</summary>
public sealed record ErrorAtDissimilarity(double LowestIndex, double HighestIndex, int Rows, double Rmse, double Coverage);

/// <summary>Measures coverage without letting a row calibrate its own interval: each fold's interval comes from the residuals of the other
/// folds.</summary>
internal static class CoverageCheck
{
    private const int Groups = 5;

    /// <param name="kinds">Of each row, for intervals by kind of place.</param>
    public static bool[] Inside(double level, double[] residuals, double[] index, CrossValidationFolds folds,
        IReadOnlyList<string?>? kinds = null)
    {
        bool[] inside = new bool[residuals.Length];
        for (int fold = 0; fold < folds.Count; fold++)
        {
            int[] others = [.. Enumerable.Range(0, residuals.Length).Where(r => folds.FoldOfRow[r] != fold)];
            PredictionInterval interval =
                PredictionInterval.Of(level, [.. others.Select(r => residuals[r])], [.. others.Select(r => index[r])],
                    kinds is null ? null : [.. others.Select(r => kinds[r])]);
            foreach (int row in folds.HeldOut(fold))
                inside[row] = Math.Abs(residuals[row]) <= interval.HalfWidthAt(index[row], kinds?[row]);
        }
        return inside;
    }

    public static IReadOnlyList<Coverage> ByGroup(CovariateTable table, double[] residuals, double[] index, bool[] inside,
        Applicability applicability)
    {
        int[] all = [.. Enumerable.Range(0, residuals.Length)];
        Coverage Of(string group, string title, IEnumerable<int> rows)
        {
            int[] these = [.. rows];
            return new(group, title, these.Length, these.Count(r => inside[r]) / (double)these.Length, Rms(these, residuals));
        }
        List<Coverage> groups = [Of("all", "all", all)];
        if (all.Where(r => applicability.IsApplicable(index[r])).ToArray() is { Length: > 0 } within)
            groups.Add(Of("within-area", "inside the area of applicability", within));
        if (all.Where(r => !applicability.IsApplicable(index[r])).ToArray() is { Length: > 0 } beyond)
            groups.Add(Of("beyond-area", "outside the area of applicability", beyond));
        groups.AddRange(all.GroupBy(r => table.Rows[r].Ecosystem ?? "ecosystem not stated").OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => Of(g.Key == "ecosystem not stated" ? "unstated" : g.Key, g.Key, g)));
        return groups;
    }

    public static IReadOnlyList<ErrorAtDissimilarity> ByDissimilarity(double[] residuals, double[] index, bool[] inside)
    {
        int[] order = [.. Enumerable.Range(0, index.Length).OrderBy(r => index[r]).ThenBy(r => r)];
        return [.. Enumerable.Range(0, Groups)
            .Select(g => order[(g * order.Length / Groups)..((g + 1) * order.Length / Groups)])
            .Where(rows => rows.Length > 0)
            .Select(rows => new ErrorAtDissimilarity(
                index[rows[0]], index[rows[^1]], rows.Length, Rms(rows, residuals), rows.Count(r => inside[r]) / (double)rows.Length))];
    }

    private static double Rms(int[] rows, double[] residuals) => Math.Sqrt(rows.Average(r => residuals[r] * residuals[r]));
}
