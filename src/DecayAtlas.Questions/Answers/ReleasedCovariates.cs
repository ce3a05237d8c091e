namespace DecayAtlas.Questions.Answers;

/// <summary>The covariates of a release: of a site, and of what its bags felt in a campaign.</summary>
public sealed class ReleasedCovariates
{
    private readonly Dictionary<(string Site, string Covariate), double> _ofSites;
    private readonly Dictionary<(string Site, string Campaign, string Treatment, string Covariate), double> _ofCampaigns;
    private readonly Dictionary<string, string> _units;
    private readonly HashSet<string> _classes;
    private readonly Dictionary<(string Site, string Covariate), string> _classOfSites;

    public ReleasedCovariates(IReleasedRows release)
    {
        IReadOnlyList<ReleasedCovariate> ofSites = release.Rows(AtlasTables.Covariates);
        IReadOnlyList<ReleasedCampaignCovariate> ofCampaigns = release.Rows(AtlasTables.CampaignCovariates);
        _ofSites = ofSites.Where(c => c.Value is not null).ToDictionary(c => (c.SiteKey, c.Covariate), c => c.Value!.Value);
        _ofCampaigns = ofCampaigns.Where(c => c.ValueMean is not null)
            .ToDictionary(c => (c.SiteKey, c.Campaign, c.Treatment ?? "", c.Covariate), c => c.ValueMean!.Value);
        _units = ofSites.Select(c => (c.Covariate, c.Unit)).Concat(ofCampaigns.Select(c => (c.Covariate, c.Unit)))
            .DistinctBy(c => c.Covariate, StringComparer.Ordinal).ToDictionary(c => c.Covariate, c => c.Unit, StringComparer.Ordinal);
        _classes = [.. ofSites.Where(c => c.IsClass).Select(c => c.Covariate)];
        _classOfSites = ofSites.Where(c => c.IsClass && c.IsKnown)
            .ToDictionary(c => (c.SiteKey, c.Covariate), c => c.Label ?? CatalogueEntry.CodeText(c.Value!.Value));
        Names = [.. _units.Keys.Order(StringComparer.Ordinal)];
    }

    public IReadOnlyList<string> Names { get; }

    /// <summary>Why a number of each can't be had, in a sentence; missing where it can.</summary>
    public string? RefusalOf(IReadOnlyList<string> names) =>
        names.FirstOrDefault(n => !_units.ContainsKey(n)) is { } unknown
            ? $"{unknown} is no covariate of the release; it has {(Names.Count == 0 ? "no covariates" : string.Join(", ", Names))}."
        : names.FirstOrDefault(_classes.Contains) is { } named ? $"{named} is a class, and a number is needed."
        : null;

    /// <summary>Why it can't be the temperature, in a sentence; missing where it can, or where no unit is told.</summary>
    public string? RefusalAsTemperature(string name) => RefusalOf([name])
        ?? (_units[name] == "" || CelsiusUnit.Is(_units[name]) ? null
            : $"{name} has the unit '{_units[name]}', and a temperature must be in degC.");

    /// <summary>The name of the class at a site, or its code where it has none; missing where it is missing or withheld.</summary>
    public string? ClassOf(string siteKey, string covariate) => _classOfSites.GetValueOrDefault((siteKey, covariate));

    /// <summary>The value of the site, or the mean of what its bags felt in the campaign under the treatment; missing where it is missing
    /// or withheld.</summary>
    public double? Of(string siteKey, string campaign, string? treatment, string covariate) =>
        _ofSites.TryGetValue((siteKey, covariate), out double site) ? site
        : _ofCampaigns.TryGetValue((siteKey, campaign, treatment ?? "", covariate), out double felt) ? felt
        : null;
}
