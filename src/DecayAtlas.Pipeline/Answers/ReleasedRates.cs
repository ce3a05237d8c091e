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

    /// <summary>The values of covariates for a burial, in the order of the names; missing where one of them is missing or withheld.</summary>
    /// <exception cref="ConfigurationException">The release has no covariate of a name.</exception>
    public Func<ReleasedRate, double[]?> Covariates(IReadOnlyList<string> names)
    {
        var covariates = new ReleasedCovariates(_release);
        if (names.FirstOrDefault(name => !covariates.Names.Contains(name)) is { } unknown)
            throw new ConfigurationException($"--with names {unknown}, which the release does not have; it has {(covariates.Names.Count == 0 ? "no covariates" : string.Join(", ", covariates.Names))}.");
        return burial =>
        {
            double?[] values = [.. names.Select(name => covariates.Of(burial.SiteKey, burial.Campaign, burial.Treatment, name))];
            return values.Any(v => v is null) ? null : [.. values.Select(v => v!.Value)];
        };
    }
}
