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

    [Column("ecosystem", "Ecosystem as stated.")]
    public string? Ecosystem { get; init; }

    [Column("land_use", "Land use as stated.")]
    public string? LandUse { get; init; }

    [Column("management", "conventional, organic, none or other.")]
    public string? Management { get; init; }

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

    private static readonly WKBWriter Wkb = new();

    private static byte[]? WellKnownBinary(PublishedPlace place) =>
        place is { LongitudeDegrees: { } longitude, LatitudeDegrees: { } latitude } ? Wkb.Write(new Point(longitude, latitude)) : null;

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
        Ecosystem = site.Row.Ecosystem,
        LandUse = site.Row.LandUse,
        Management = site.Row.Management,
        ManagementNote = site.Place.IsSensitive ? null : site.Row.ManagementNote,
        ElevationMetres = site.Place.IsSensitive ? null : site.Row.ElevationMetres,
        Use = AtlasCode.Of(verdict.Use),
        UseBecause = verdict.Because,
        Geometry = WellKnownBinary(site.Place),
        Block = site.Place.Block,
    };
}
