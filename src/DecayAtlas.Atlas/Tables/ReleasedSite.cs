using NetTopologySuite.Geometries;
using NetTopologySuite.IO;

namespace DecayAtlas.Atlas.Tables;

/// <summary>A released site: of a sensitive one only what may be known.</summary>
[Table("sites", "One row a site, as its newest contribution describes it. GeoParquet: the point is in geometry.",
    Longitude = nameof(LongitudeDegrees), Latitude = nameof(LatitudeDegrees))]
public sealed record ReleasedSite
{
    [Column("site_key", "Contributor id and site id, joined by a slash.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("contributor_id", "Group that described the site.")]
    public required string ContributorId { get; init; }

    [Column("contribution_id", "Newest contribution that describes it.")]
    public required string ContributionId { get; init; }

    [Column("decimal_latitude", "Published latitude (Darwin Core decimalLatitude); missing where impossible.", "degrees north, WGS 84")]
    public double? LatitudeDegrees { get; init; }

    [Column("decimal_longitude", "Published longitude (Darwin Core decimalLongitude); missing where impossible.", "degrees east, WGS 84")]
    public double? LongitudeDegrees { get; init; }

    [Column("coordinate_uncertainty_m", "Radius that holds the true place (Darwin Core coordinateUncertaintyInMeters).", "m")]
    public double? CoordinateUncertaintyMetres { get; init; }

    [Column("coordinates_generalised", "Whether the published point is the centre of a 0.1 degree cell that hides a sensitive site.")]
    public required bool IsGeneralised { get; init; }

    [Column("country_code", "ISO 3166-1 alpha-2 code as stated.")]
    public string? CountryCode { get; init; }

    [Column("ecosystem", "Ecosystem, in a word of the vocabulary" + OrOwn)]
    public string? Ecosystem { get; init; }

    [Column("ecosystem_iri", "Concept of an open vocabulary that comes close to the ecosystem (skos:closeMatch); more in words.")]
    public string? EcosystemIri => Vocabulary.Ecosystem.IriOf(Ecosystem);

    [Column("land_use", "Land use, in a word of the vocabulary" + OrOwn)]
    public string? LandUse { get; init; }

    [Column("land_use_iri", "Concept that comes close to the land use, likewise.")]
    public string? LandUseIri => Vocabulary.LandUse.IriOf(LandUse);

    [Column("management", "Management, in a word of the vocabulary" + OrOwn)]
    public string? Management { get; init; }

    [Column("management_iri", "Concept that comes close to the management, likewise.")]
    public string? ManagementIri => Vocabulary.Management.IriOf(Management);

    [Column("words_as_sent",
        "What the contributor wrote where a word above was mapped or spelt otherwise, as land_use: Wiese; not published for a site marked "
        + "sensitive.")]
    public string? WordsAsSent { get; init; }

    [Column("site_name", "What the contributor calls the site, where that is not its id; not published for a site marked sensitive.")]
    public string? SiteName { get; init; }

    [Column("management_note", "Management in the contributor's words; not published for a site marked sensitive.")]
    public string? ManagementNote { get; init; }

    [Column("elevation_m", "Elevation as stated; not published for a site marked sensitive.", "m")]
    public double? ElevationMetres { get; init; }

    [Column("use", "accepted, suspect or rejected.")]
    public required string Use { get; init; }

    [Column("use_because", "Flag codes that decided the use.")]
    public string? UseBecause { get; init; }

    [Column("geometry", "Point as well-known binary, WGS 84, longitude first.")]
    public byte[]? Geometry { get; init; }

    [Partition("block")]
    public string? Block { get; init; }

    /// <summary>The id within its contributor.</summary>
    public string SiteId => SiteKey.StartsWith(ContributorId + "/", StringComparison.Ordinal) ? SiteKey[(ContributorId.Length + 1)..]
        : SiteKey;

    private const string OrOwn =
        "; the contributor's own where nobody mapped it, which has no concept and is not published for a site marked sensitive.";

    private static readonly WKBWriter Wkb = new();

    private static byte[]? WellKnownBinary(PublishedPlace place) =>
        place is { LongitudeDegrees: { } longitude, LatitudeDegrees: { } latitude } ? Wkb.Write(new Point(longitude, latitude)) : null;

    // a word of the sender's own may say where it is
    private static string? Public(Site site, WordList list, string? word) =>
        site.Place.IsSensitive && list.Find(word) is null ? null : word;

    public static ReleasedSite Of(Site site, Verdict verdict) => new()
    {
        SiteKey = site.Key,
        ContributorId = site.ContributorId,
        ContributionId = site.ContributionId,
        LatitudeDegrees = site.Place.LatitudeDegrees,
        LongitudeDegrees = site.Place.LongitudeDegrees,
        CoordinateUncertaintyMetres = site.Place.UncertaintyMetres,
        IsGeneralised = site.Place.IsGeneralised,
        CountryCode = site.Row.CountryCode,
        Ecosystem = Public(site, Vocabulary.Ecosystem, site.Row.Ecosystem),
        LandUse = Public(site, Vocabulary.LandUse, site.Row.LandUse),
        Management = Public(site, Vocabulary.Management, site.Row.Management),
        WordsAsSent = site.Place.IsSensitive ? null : site.Row.WordsAsSent,
        SiteName = site.Place.IsSensitive ? null : site.Row.SiteName,
        ManagementNote = site.Place.IsSensitive ? null : site.Row.ManagementNote,
        ElevationMetres = site.Place.IsSensitive ? null : site.Row.ElevationMetres,
        Use = AtlasCode.Of(verdict.Use),
        UseBecause = verdict.Because,
        Geometry = WellKnownBinary(site.Place),
        Block = site.Place.Block,
    };
}
