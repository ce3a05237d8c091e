using System.Globalization;
using System.Text;

namespace DecayAtlas.Prediction;

/// <summary>One training row as it was predicted while its block was held out.</summary>
public sealed record HeldOutRow(
    string SiteKey, string Campaign, double LatitudeDegrees, double LongitudeDegrees, string? Ecosystem,
    int Fold, double Weight, double Observed, double Predicted, double Dissimilarity, bool InsideInterval, IReadOnlyList<double> Covariates);

/// <summary>What stands behind the blocked scores, row by row, so that anyone can compute them again; saved as <c>held-out.csv</c>.</summary>
internal static class HeldOutTable
{
    public static IReadOnlyList<HeldOutRow> Of(CovariateTable table, CrossValidationFolds folds, double[] predicted, double[] index, bool[] inside) =>
        [.. table.Rows.Select((row, r) => new HeldOutRow(
            row.SiteKey, row.Campaign, row.LatitudeDegrees, row.LongitudeDegrees, row.Ecosystem,
            folds.FoldOfRow[r] + 1, row.Weight, row.Target, predicted[r], index[r], inside[r], row.Covariates))];

    /// <summary>RFC 4180, point as decimal sign; missing is empty.</summary>
    public static string Csv(IReadOnlyList<HeldOutRow> rows, IEnumerable<string> covariates)
    {
        var text = new StringBuilder("site_key,campaign,decimal_latitude,decimal_longitude,ecosystem,fold,weight,observed,predicted,dissimilarity,inside_interval");
        foreach (string name in covariates)
            text.Append(',').Append(Cell(name));
        text.Append('\n');
        foreach (var r in rows)
        {
            text.Append(CultureInfo.InvariantCulture, $"{Cell(r.SiteKey)},{Cell(r.Campaign)},{r.LatitudeDegrees},{r.LongitudeDegrees},{Cell(r.Ecosystem)},{r.Fold},{r.Weight},{r.Observed},{r.Predicted},{r.Dissimilarity},{(r.InsideInterval ? "true" : "false")}");
            foreach (double value in r.Covariates)
                text.Append(CultureInfo.InvariantCulture, $",{value}");
            text.Append('\n');
        }
        return text.ToString();
    }

    private static string Cell(string? text) =>
        text is null ? "" : text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
