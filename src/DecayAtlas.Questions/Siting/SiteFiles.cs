using System.Text.Json;
using nietras.SeparatedValues;

namespace DecayAtlas.Questions.Siting;

/// <summary>Writes proposed places as CSV and GeoJSON with the same columns, and what is gained with each number of sites.</summary>
public static class SiteFiles
{
    public const string CsvName = "sites.csv", GeoJsonName = "sites.geojson", GainName = "sites-gain.csv", MapName = "sites.png",
        FigureSvgName = "sites-gain.svg", FigurePngName = "sites-gain.png";

    private static readonly (string Name, Func<SitePlan, ProposedSite, object?> Of)[] Columns =
    [
        ("rank", (_, s) => s.Rank),
        ("region", (_, s) => s.Region),
        ("longitude", (_, s) => s.Place.LongitudeDegrees),
        ("latitude", (_, s) => s.Place.LatitudeDegrees),
        ("applicable", (_, s) => s.IsApplicable),
        ("dissimilarity", (_, s) => s.Dissimilarity),
        ("k_per_day", (_, s) => s.RatePerDay),
        ("k_lower_per_day", (_, s) => s.LowerPerDay),
        ("k_upper_per_day", (_, s) => s.UpperPerDay),
        ("nearest_site_km", (_, s) => s.NearestSiteMetres / 1000),
        ("hidden_site_near", (_, s) => s.IsHiddenSiteNear),
        ("half_width_before_percent", (p, _) => SitePlan.PercentOf(p.Now.Sum)),
        ("half_width_after_percent", (_, s) => SitePlan.PercentOf(s.After)),
        ("floor_percent", (p, _) => SitePlan.PercentOf(p.Now.Floor)),
        ("shared_percent", (p, _) => SitePlan.PercentOf(p.Now.Shared)),
    ];

    private static readonly (string Name, Func<SitePlan, SiteStep, double> Of)[] GainColumns =
    [
        ("sites", (_, s) => s.Sites),
        ("chosen_percent", (_, s) => SitePlan.PercentOf(s.Chosen)),
        ("spread_percent", (_, s) => SitePlan.PercentOf(s.Spread)),
        ("random_percent", (_, s) => SitePlan.PercentOf(s.AtRandom)),
        ("random_p10_percent", (_, s) => SitePlan.PercentOf(s.AtRandomLower)),
        ("random_p90_percent", (_, s) => SitePlan.PercentOf(s.AtRandomUpper)),
        ("floor_percent", (p, _) => SitePlan.PercentOf(p.Now.Floor)),
        ("shared_percent", (p, _) => SitePlan.PercentOf(p.Now.Shared)),
    ];

    public static void Write(string folder, SitePlan plan)
    {
        DurableFile.WriteText(Path.Combine(folder, CsvName), Csv(Places(plan)));
        DurableFile.WriteText(Path.Combine(folder, GainName), Csv(Gain(plan)));
        DurableFile.Write(Path.Combine(folder, GeoJsonName), stream => WriteGeoJson(stream, plan));
    }

    public static void WriteFigure(string folder, Figure figure)
    {
        DurableFile.WriteText(Path.Combine(folder, FigureSvgName), figure.Svg());
        DurableFile.Write(Path.Combine(folder, FigurePngName), stream => stream.Write(figure.Png()));
    }

    /// <summary>The proposed places by column.</summary>
    public static IReadOnlyList<Dictionary<string, object?>> Places(SitePlan plan) =>
    [
        .. plan.Sites.Select(site => Columns.Select(c => (c.Name, Value: c.Of(plan, site)))
            .Concat(plan.Covariates.Select((c, i) => ($"covariate_{c.Name}", ValueOf(c, site.Covariates[i]))))
            .ToDictionary(c => c.Item1, c => c.Item2, StringComparer.Ordinal)),
    ];

    /// <summary>What is gained with each number of sites, by column.</summary>
    public static IReadOnlyList<Dictionary<string, object?>> Gain(SitePlan plan) =>
        [.. plan.Steps.Select(step => GainColumns.ToDictionary(c => c.Name, c => (object?)c.Of(plan, step), StringComparer.Ordinal))];

    /// <summary>Of a class its name.</summary>
    private static object? ValueOf(CardCovariate covariate, double value) =>
        covariate.Classes is { } classes ? classes.Names[(int)value] : value;

    private static string Csv(IEnumerable<Dictionary<string, object?>> rows)
    {
        using SepWriter writer = Sep.New(',').Writer(options => options with { Escape = true }).ToText();
        foreach (Dictionary<string, object?> values in rows)
        {
            using SepWriter.Row row = writer.NewRow();
            foreach ((string name, object? value) in values)
                row[name].Set(value is string text ? SpreadsheetSafe.Text(text) : Plain(value));
        }

        return writer.ToString();
    }

    private static string Plain(object? value) => value switch
    {
        bool yes => yes ? "true" : "false",
        double number => double.IsFinite(number) ? Invariant($"{number:R}") : "",
        _ => Invariant($"{value}"),
    };

    private static void WriteGeoJson(Stream stream, SitePlan plan) =>
        GeoJsonFeatures.Write(stream, plan.Sites.Zip(Places(plan)), (json, feature) =>
        {
            json.WriteStartObject();
            json.WriteString("type", "Point");
            json.WriteStartArray("coordinates");
            json.WriteNumberValue(feature.First.Place.LongitudeDegrees);
            json.WriteNumberValue(feature.First.Place.LatitudeDegrees);
            json.WriteEndArray();
            json.WriteEndObject();
        }, (json, feature) =>
        {
            foreach ((string name, object? value) in feature.Second)
            {
                json.WritePropertyName(name);
                JsonSerializer.Serialize(json, value is double number && !double.IsFinite(number) ? null : value);
            }
        });
}
