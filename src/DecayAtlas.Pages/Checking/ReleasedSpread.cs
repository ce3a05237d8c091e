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

    public static string ScriptOf(ReleaseData data) => Script.Assign("atlasBeside", Of(data));

    public static object Of(ReleaseData data) => new
    {
        release = data.ReleaseId,
        all = Kind(data.Rates.Values),
        ecosystems = data.Rates.Values.Where(rate => rate.Site.Ecosystem is not null).GroupBy(rate => rate.Site.Ecosystem!)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .Where(group => Spread.Of(group.Select(rate => rate.RatePerDay)) is not null)
            .ToDictionary(group => group.Key, Kind),
    };

    private static object Kind(IEnumerable<SiteRate> rates) =>
        new { k = Spread.Of(rates.Select(rate => rate.RatePerDay)), s = Spread.Of(rates.Select(rate => rate.Stabilisation)) };
}
