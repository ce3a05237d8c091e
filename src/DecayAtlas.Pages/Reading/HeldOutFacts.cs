using System.Globalization;
using nietras.SeparatedValues;

namespace DecayAtlas.Pages.Reading;

/// <summary>One row that the model learnt from, as it was guessed while its block was kept from the model.</summary>
public sealed record HeldOutFacts(
    string SiteKey, double LatitudeDegrees, double LongitudeDegrees, double Observed, double Predicted, double Dissimilarity)
{
    public const string FileName = "held-out.csv";

    private static readonly string[] Numbers = ["decimal_latitude", "decimal_longitude", "observed", "predicted", "dissimilarity"];

    /// <summary>Values of the covariates that are numbers, by name.</summary>
    public IReadOnlyDictionary<string, double> Covariates { get; init; } = new Dictionary<string, double>();

    /// <summary>The rows beside a card; none where it has no such file. What the file does not tell is no number.</summary>
    /// <exception cref="PagesException">The file is of another form.</exception>
    public static IReadOnlyList<HeldOutFacts> Read(string folder, IReadOnlyList<string> covariates)
    {
        string path = Path.Combine(folder, FileName);
        if (!File.Exists(path))
            return [];
        try
        {
            using SepReader reader = Sep.New(',').Reader(options => options with { Unescape = true }).FromFile(path);
            string[] known = [.. Numbers.Concat(covariates).Where(c => reader.Header.TryIndexOf(c, out _))];
            List<HeldOutFacts> rows = [];
            foreach (SepReader.Row row in reader)
            {
                Dictionary<string, double> values = [];
                foreach (string name in known)
                {
                    if (double.TryParse(row[name].Span, NumberStyles.Float, CultureInfo.InvariantCulture, out double value))
                        values[name] = value;
                }

                double[] own = [.. Numbers.Select(name => values.GetValueOrDefault(name, double.NaN))];
                rows.Add(new HeldOutFacts(row["site_key"].ToString(), own[0], own[1], own[2], own[3], own[4]) { Covariates = values });
            }

            return rows;
        }
        catch (Exception e) when (e is KeyNotFoundException or InvalidDataException)
        {
            throw new PagesException($"{path} can't be read as held-out predictions; delete its folder and run again.", e);
        }
    }
}
