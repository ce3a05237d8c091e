using System.Globalization;
using nietras.SeparatedValues;

namespace DecayAtlas.Pages.Reading;

/// <summary>What a model said of each site while the site and all round it were kept from it.</summary>
internal static class HeldOut
{
    public static readonly IReadOnlyDictionary<string, double> None = new Dictionary<string, double>();

    private const string FileName = "held-out.csv";

    /// <summary>By site the mean over its campaigns of what was predicted, as the model has it: ln k, or S; nothing where the folder keeps
    /// no such table.</summary>
    /// <exception cref="PagesException">The table is of another form.</exception>
    public static IReadOnlyDictionary<string, double> Read(string folder)
    {
        string path = Path.Combine(folder, FileName);
        if (!File.Exists(path))
            return None;
        try
        {
            Dictionary<string, List<double>> bySite = new(StringComparer.Ordinal);
            using SepReader rows = Sep.New(',').Reader(options => options with { Unescape = true }).FromFile(path);
            foreach (SepReader.Row row in rows)
            {
                string site = row["site_key"].ToString();
                if (!bySite.TryGetValue(site, out List<double>? predicted))
                    bySite[site] = predicted = [];
                predicted.Add(double.Parse(row["predicted"].Span, CultureInfo.InvariantCulture));
            }

            return bySite.ToDictionary(s => s.Key, s => s.Value.Average(), StringComparer.Ordinal);
        }
        catch (Exception e) when (e is FormatException or KeyNotFoundException or InvalidDataException)
        {
            throw new PagesException($"{path} can't be read as held-out predictions; delete its folder and run again.", e);
        }
    }
}
