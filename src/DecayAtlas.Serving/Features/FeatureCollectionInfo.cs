namespace DecayAtlas.Serving.Features;

/// <summary>What a collection of features is, whatever the release.</summary>
/// <param name="Id">Its name in addresses.</param>
/// <param name="Filters">The properties it may be asked by.</param>
internal sealed record FeatureCollectionInfo(string Id, string Title, string Description, IReadOnlyList<PropertyFilter> Filters)
{
    private static readonly PropertyFilter Use = PropertyFilter.OneOf("use", "accepted", "suspect", "rejected");

    private static readonly PropertyFilter[] OfTheSite = [PropertyFilter.OfSites("country_code"), PropertyFilter.OfSites("ecosystem"),
        PropertyFilter.OfSites("land_use"), PropertyFilter.OfSites("management")];

    public static FeatureCollectionInfo Sites { get; } = new(
        "sites", "Sites",
        "Places where litter bags lay, as published: the place of a sensitive site is the middle of a cell of 0.1 degrees. The time of "
        + "a site is from its first burial to its last retrieval; k and S are those of its newest campaign in untreated plots.",
        [PropertyFilter.Id("contributor_id"), PropertyFilter.Id("contribution_id"), .. OfTheSite,
        PropertyFilter.OneOf("coordinates_generalised", "true", "false"), Use]);

    public static FeatureCollectionInfo Burials { get; } = new(
        "burials", "Burials",
        "One fast and one slow litter bag that lay together: decay rate k and stabilisation factor S with their uncertainty, at the "
        + "published place of the site. The time of a burial is its exposure.",
        [PropertyFilter.Id("contribution_id"), PropertyFilter.Id("site_key"), PropertyFilter.Id("campaign"), PropertyFilter.Text("plot"),
        PropertyFilter.Text("treatment"), .. OfTheSite, Use]);

    public static IReadOnlyList<FeatureCollectionInfo> All { get; } = [Sites, Burials];
}
