namespace DecayAtlas.Atlas.Records;

/// <summary>One number (or class) about a site, or about a burial there, and where it came from.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Covariate">Name of the covariate in the catalogue.</param>
/// <param name="Value">The value in <paramref name="Unit"/>, missing where the grids give none there.</param>
/// <param name="Unit">Unit of the value, from the catalogue.</param>
/// <param name="Rule">The sampling rule really used; rules that differ between layers are joined by a comma.</param>
/// <param name="Status">How the value was got, or why it is missing.</param>
/// <param name="DistanceMetres">Ground distance from the site to the centre of the cell used, of several layers the largest (m); missing
/// for interpolation.</param>
/// <param name="GridFingerprint">Fingerprints of the files used, each once, joined by a space.</param>
public sealed record CovariateValue(
    string SiteKey, string Covariate, double? Value, string Unit, string Rule, string Status, double? DistanceMetres,
    string GridFingerprint)
{
    /// <summary>Name of the class or map unit, for covariates that are names.</summary>
    public string? Label { get; init; }

    /// <summary>Standard deviation of the values under the circle of the site's uncertainty, weighted by area; missing for other rules and
    /// for several layers.</summary>
    public double? StandardDeviation { get; init; }

    /// <summary>Share of the circle that lies on cells with a value (1), of several layers the smallest; missing for rules without a
    /// circle.</summary>
    public double? ValidShare { get; init; }

    /// <summary>Share of the bag's height, or of the days of the exposure, that the layers describe (1).</summary>
    public double? CoveredShare { get; init; }

    /// <summary>The layers used and the weight of each, where there are several.</summary>
    public string? Layers { get; init; }

    /// <summary>Formula, its source and its inputs, for a value computed from other covariates.</summary>
    public string? Formula { get; init; }

    /// <summary>Whether there is a number or a name.</summary>
    public bool IsKnown => Value is not null || Label is not null;
}

/// <summary>A covariate that differs between burials of one site, by their dates or depth.</summary>
/// <param name="ContributionId">Contribution of the burial.</param>
/// <param name="BurialId">The burial.</param>
/// <param name="Value">The value and where it came from.</param>
public sealed record BurialCovariate(string ContributionId, string BurialId, CovariateValue Value);

/// <summary>What the bags of one site felt in one campaign under one treatment: the mean over the burials whose ln k is averaged.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Campaign">The campaign.</param>
/// <param name="Treatment">Treatment of the plots; missing for untreated ones.</param>
/// <param name="Covariate">Name of the covariate.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Values">The values of the accepted burials with k above 0 that have one; empty where withheld.</param>
/// <param name="IsWithheld">Whether the site is marked sensitive.</param>
public sealed record CampaignCovariate(
    string SiteKey, string Campaign, string? Treatment, string Covariate, string Unit, IReadOnlyList<double> Values, bool IsWithheld);
