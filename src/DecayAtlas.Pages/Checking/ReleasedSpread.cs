namespace DecayAtlas.Pages.Checking;

/// <summary>How k (d⁻¹) or S (1) of sites lies: where 5, 25, 50, 75 and 95 % of them are below.</summary>
internal sealed record Spread(int Sites, double P5, double P25, double P50, double P75, double P95)
{
    public static Spread? Of(IEnumerable<double?> values)
    {
        double[] sorted = Quantiles.Sort(values.OfType<double>());
        return sorted.Length < SimilarClimate.Fewest ? null
            : new Spread(sorted.Length, At(0.05), At(0.25), At(0.5), At(0.75), At(0.95));

        double At(double share) => Script.Short(Quantiles.Of(sorted, share))!.Value;
    }
}

/// <summary>What a release has to be looked at beside a new contribution: its sites' mean k and S, of all and of each ecosystem.</summary>
internal static class ReleasedSpread
{
    public const string File = "data/check-beside.js";

    // A new place has no climate yet: that of the nearest place of the release stands for it, within so many kilometres (common practice,
    // no source; air temperature of neighbours is alike over far more than that where the land is even).
    private const double NearKilometres = 50;

    // some 40 bytes each
    private const int MostPlaces = 4000;

    public static string ScriptOf(ReleaseData data, ClimateNames names) => Script.Assign("atlasBeside", Of(data, names));

    public static object Of(ReleaseData data, ClimateNames names) => new
    {
        release = data.ReleaseId,
        near_km = NearKilometres,
        warmth_degrees = SimilarClimate.WarmthDegrees,
        rain_factor = SimilarClimate.RainFactor,
        fewest = SimilarClimate.Fewest,
        places = Places(data, names),
        all = Kind(data.Rates.Values),
        ecosystems = data.Rates.Values.Where(rate => rate.Site.Ecosystem is not null).GroupBy(rate => rate.Site.Ecosystem!)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .Where(group => Spread.Of(group.Select(rate => rate.RatePerDay)) is not null)
            .ToDictionary(group => group.Key, Kind),
    };

    /// <summary>Places with a rate and a temperature: latitude and longitude as released, °C, mm, k, S.</summary>
    private static double?[][] Places(ReleaseData data, ClimateNames names)
    {
        IReadOnlyDictionary<string, double> temperature = data.Covariate(names.Temperature), rain = data.Covariate(names.Precipitation);
        SiteRate[] known = [.. data.Rates.Values.Where(r => r is { RatePerDay: not null, Site: { LatitudeDegrees: not null,
                LongitudeDegrees: not null } } && temperature.ContainsKey(r.Site.SiteKey))
            .OrderBy(r => r.Site.SiteKey, StringComparer.Ordinal)];
        int step = (known.Length + MostPlaces - 1) / MostPlaces;
        return
        [
            .. known.Where((_, i) => i % Math.Max(1, step) == 0).Select(r => new[]
            {
                Math.Round(r.Site.LatitudeDegrees!.Value, 4), Math.Round(r.Site.LongitudeDegrees!.Value, 4),
                Script.Short(temperature[r.Site.SiteKey]), rain.TryGetValue(r.Site.SiteKey, out double mm) ? Script.Short(mm) : null,
                Script.Short(r.RatePerDay), Script.Short(r.Stabilisation),
            }),
        ];
    }

    private static object Kind(IEnumerable<SiteRate> rates) =>
        new { k = Spread.Of(rates.Select(rate => rate.RatePerDay)), s = Spread.Of(rates.Select(rate => rate.Stabilisation)) };
}
