namespace DecayAtlas.Atlas.Records;

/// <summary>A site as one contributor describes it; later contributions of the same contributor speak of the same site by the same
/// id.</summary>
/// <param name="Key">Contributor id and site id, joined by a slash: the site's name in every table.</param>
/// <param name="ContributionId">The newest contribution that describes it.</param>
/// <param name="Place">What is published of its coordinates.</param>
public sealed record Site(string Key, string ContributorId, string ContributionId, SiteRow Row, PublishedPlace Place)
{
    /// <summary>The exact point, for snapping only.</summary>
    public GeoPoint ExactPoint => new(Row.DecimalLongitude, Row.DecimalLatitude);

    public static string KeyOf(string contributorId, string siteId) => $"{contributorId}/{siteId}";
}
