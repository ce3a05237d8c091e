namespace DecayAtlas.Atlas.Records;

/// <summary>One number about a site from one grid, and where it came from.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Covariate">Name of the grid in the catalogue.</param>
/// <param name="Value">The value in <paramref name="Unit"/>, missing where the grid has none there.</param>
/// <param name="Unit">Unit of the value, from the catalogue.</param>
/// <param name="Rule">The sampling rule asked for.</param>
/// <param name="Status">How the value was got, or why it is missing.</param>
/// <param name="DistanceMetres">Ground distance from the site to the centre of the cell used (m); missing for interpolation.</param>
/// <param name="GridFingerprint">Fingerprint of the grid file.</param>
public sealed record CovariateValue(
    string SiteKey, string Covariate, double? Value, string Unit, string Rule, string Status, double? DistanceMetres, string GridFingerprint)
{
    /// <summary>Standard deviation of the values under the circle of the site's uncertainty, weighted by area; missing for other rules.</summary>
    public double? StandardDeviation { get; init; }

    /// <summary>Share of the circle that lies on cells with a value (1); missing for rules without a circle.</summary>
    public double? ValidShare { get; init; }
}
