using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pipeline.Answers;

/// <summary>The covariates of a release: of a site, and of what its bags felt in a campaign.</summary>
public sealed class ReleasedCovariates
{
    private readonly Dictionary<(string Site, string Covariate), double> _ofSites;
    private readonly Dictionary<(string Site, string Campaign, string Treatment, string Covariate), double> _ofCampaigns;

    public ReleasedCovariates(ReleaseReader release)
        : this(release.Table)
    {
    }

    internal ReleasedCovariates(Func<string, ParquetColumns> table)
    {
        ParquetColumns sites = table("covariates"), campaigns = table("campaign_covariates");
        string?[] keys = sites.Text("site_key"), names = sites.Text("covariate");
        double?[] values = sites.Number("value");
        _ofSites = Known(values).ToDictionary(i => (keys[i]!, names[i]!), i => values[i]!.Value);

        string?[] siteKeys = campaigns.Text("site_key"), ids = campaigns.Text("campaign"), treatments = campaigns.Text("treatment"), felt = campaigns.Text("covariate");
        double?[] means = campaigns.Number("value_mean");
        _ofCampaigns = Known(means).ToDictionary(i => (siteKeys[i]!, ids[i]!, treatments[i] ?? "", felt[i]!), i => means[i]!.Value);
        Names = [.. names.Concat(felt).OfType<string>().Distinct().Order(StringComparer.Ordinal)];
    }

    /// <summary>Every covariate that the release has rows of.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>The value of the site, or the mean of what its bags felt in the campaign under the treatment; missing where it is missing or withheld.</summary>
    public double? Of(string siteKey, string campaign, string? treatment, string covariate) =>
        _ofSites.TryGetValue((siteKey, covariate), out double site) ? site
        : _ofCampaigns.TryGetValue((siteKey, campaign, treatment ?? "", covariate), out double felt) ? felt
        : null;

    private static IEnumerable<int> Known(double?[] values) => Enumerable.Range(0, values.Length).Where(i => values[i] is not null);
}
