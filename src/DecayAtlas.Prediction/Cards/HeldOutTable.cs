using System.Globalization;
using nietras.SeparatedValues;

namespace DecayAtlas.Prediction.Cards;

/// <summary>One training row as it was predicted while its block was held out.</summary>
public sealed record HeldOutRow(
    string SiteKey, string Campaign, double LatitudeDegrees, double LongitudeDegrees, string? Ecosystem,
    int Fold, double Weight, double Observed, double Predicted, double Dissimilarity, bool InsideInterval,
    IReadOnlyList<double> Covariates);

/// <summary>What stands behind the blocked scores, row by row, so that anyone can compute them again; saved as
/// <c>held-out.csv</c>.</summary>
internal static class HeldOutTable
{
    public static IReadOnlyList<HeldOutRow> Of(CovariateTable table, CrossValidationFolds folds, double[] predicted, double[] index,
        bool[] inside) =>
        [.. table.Rows.Select((row, r) => new HeldOutRow(
            row.SiteKey, row.Campaign, row.LatitudeDegrees, row.LongitudeDegrees, row.Ecosystem,
            folds.FoldOfRow[r] + 1, row.Weight, row.Target, predicted[r], index[r], inside[r], row.Covariates))];

    /// <summary>RFC 4180, point as decimal sign; missing is empty.</summary>
    public static string Csv(IReadOnlyList<HeldOutRow> rows, IReadOnlyList<CardCovariate> covariates)
    {
        using StringWriter text = new() { NewLine = "\n" };
        using SepWriter writer = Sep.New(',').Writer(options => options with { Escape = true, WriteHeader = false }).To(text);
        Add([
            "site_key", "campaign", "decimal_latitude", "decimal_longitude", "ecosystem", "fold", "weight", "observed", "predicted",
            "dissimilarity", "inside_interval", .. covariates.Select(c => c.Name),
        ]);
        foreach (HeldOutRow r in rows)
        {
            Add([
                r.SiteKey, r.Campaign, Number(r.LatitudeDegrees), Number(r.LongitudeDegrees), r.Ecosystem, Number(r.Fold), Number(r.Weight),
                Number(r.Observed), Number(r.Predicted), Number(r.Dissimilarity), r.InsideInterval ? "true" : "false",
                    .. r.Covariates.Select((x, c) => covariates[c].Classes is { } classes ? classes.Names[(int)x] : Number(x)),
            ]);
        }
        writer.Flush();
        return text.ToString();

        static string Number(double value) => value.ToString(CultureInfo.InvariantCulture);

        void Add(string?[] cells)
        {
            using SepWriter.Row row = writer.NewRow();
            for (int i = 0; i < cells.Length; i++)
                row[i].Set(cells[i] ?? "");
        }
    }
}
