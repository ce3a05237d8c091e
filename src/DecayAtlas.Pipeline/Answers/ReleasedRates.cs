using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pipeline.Answers;

/// <summary>One accepted burial of a release with k above 0.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Campaign">The campaign.</param>
/// <param name="Treatment">Treatment of its plot as stated.</param>
/// <param name="LnRate">Natural logarithm of k in d⁻¹.</param>
public sealed record ReleasedRate(string SiteKey, string Campaign, string? Treatment, double LnRate)
{
    public bool IsUntreated => Atlas.Records.Treatment.IsUntreated(Treatment);
}

/// <summary>What questions are asked of: the accepted burials of a release, and what is known of their sites.</summary>
public sealed class ReleasedRates
{
    private readonly ReleaseReader _release;
    private readonly Dictionary<string, int> _siteRow;

    public ReleasedRates(ReleaseReader release)
    {
        _release = release;
        string?[] siteKeys = release.Table("sites").Text("site_key");
        _siteRow = Enumerable.Range(0, siteKeys.Length).ToDictionary(i => siteKeys[i]!, StringComparer.Ordinal);

        ParquetColumns burials = release.Table("burials");
        string?[] sites = burials.Text("site_key"), campaigns = burials.Text("campaign"), treatments = burials.Text("treatment"), uses = burials.Text("use");
        double?[] rates = burials.Number("k_per_day");
        Burials =
        [
            .. Enumerable.Range(0, sites.Length)
                .Where(i => uses[i] == "accepted" && rates[i] > 0)
                .Select(i => new ReleasedRate(sites[i]!, campaigns[i]!, treatments[i], Math.Log(rates[i]!.Value))),
        ];
    }

    /// <summary>The accepted burials with k above 0, in the order of the release.</summary>
    public IReadOnlyList<ReleasedRate> Burials { get; }

    /// <summary>What a text column of the table of sites says of each site.</summary>
    public Func<string, string?> OfSite(string column)
    {
        string?[] values = _release.Table("sites").Text(column);
        return siteKey => values[_siteRow[siteKey]];
    }

    /// <summary>The values of covariates by site; sites where one of them is missing or withheld are not in it.</summary>
    /// <exception cref="ConfigurationException">The release has no covariate of a name.</exception>
    public IReadOnlyDictionary<string, double[]> Covariates(IReadOnlyList<string> names)
    {
        ParquetColumns table = _release.Table("covariates");
        string?[] sites = table.Text("site_key"), covariates = table.Text("covariate");
        double?[] values = table.Number("value");
        if (names.FirstOrDefault(name => !covariates.Contains(name)) is { } unknown)
        {
            string[] known = [.. covariates.Distinct().Order(StringComparer.Ordinal)!];
            throw new ConfigurationException($"--with names {unknown}, which the release does not have; it has {(known.Length == 0 ? "no covariates" : string.Join(", ", known))}.");
        }

        Dictionary<(string, string), double> byName = Enumerable.Range(0, sites.Length).Where(i => values[i] is not null)
            .ToDictionary(i => (sites[i]!, covariates[i]!), i => values[i]!.Value);
        return _siteRow.Keys.Where(site => names.All(name => byName.ContainsKey((site, name))))
            .ToDictionary(site => site, site => names.Select(name => byName[(site, name)]).ToArray(), StringComparer.Ordinal);
    }
}
