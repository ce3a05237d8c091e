namespace DecayAtlas.Questions.Answers;

/// <summary>The covariates of a release: of a site, and of what its bags felt in a campaign.</summary>
public sealed class ReleasedCovariates
{
    private readonly Dictionary<(string Site, string Covariate), double> _ofSites;
    private readonly Dictionary<(string Site, string Campaign, string Treatment, string Covariate), double> _ofCampaigns;

    public ReleasedCovariates(IReleasedRows release)
    {
        IReadOnlyList<ReleasedCovariate> ofSites = release.Rows(AtlasTables.Covariates);
        IReadOnlyList<ReleasedCampaignCovariate> ofCampaigns = release.Rows(AtlasTables.CampaignCovariates);
        _ofSites = ofSites.Where(c => c.Value is not null).ToDictionary(c => (c.SiteKey, c.Covariate), c => c.Value!.Value);
        _ofCampaigns = ofCampaigns.Where(c => c.ValueMean is not null)
            .ToDictionary(c => (c.SiteKey, c.Campaign, c.Treatment ?? "", c.Covariate), c => c.ValueMean!.Value);
        Names = [.. ofSites.Select(c => c.Covariate).Concat(ofCampaigns.Select(c => c.Covariate)).Distinct().Order(StringComparer.Ordinal)];
    }

    public IReadOnlyList<string> Names { get; }

    /// <summary>The value of the site, or the mean of what its bags felt in the campaign under the treatment; missing where it is missing
    /// or withheld.</summary>
    public double? Of(string siteKey, string campaign, string? treatment, string covariate) =>
        _ofSites.TryGetValue((siteKey, covariate), out double site) ? site
        : _ofCampaigns.TryGetValue((siteKey, campaign, treatment ?? "", covariate), out double felt) ? felt
        : null;
}
