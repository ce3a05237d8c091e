using DecayAtlas.Atlas.Records;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO;
using static DecayAtlas.Atlas.Tables.Column;
using ReleasedSite = DecayAtlas.Atlas.Tables.Released<DecayAtlas.Atlas.Records.Site>;

namespace DecayAtlas.Atlas.Tables;

public static partial class AtlasTables
{
    public static Table<ReleasedSite> Sites { get; } = new(
        "sites",
        "One row a site, as its newest contribution describes it. GeoParquet: the point is in geometry.",
        ["site_key"],
        [
            Text<ReleasedSite>("site_key", "Contributor id and site id, joined by a slash.", x => x.Record.Key),
            Text<ReleasedSite>("contributor_id", "Group that described the site.", x => x.Record.ContributorId),
            Text<ReleasedSite>("contribution_id", "Newest contribution that describes it.", x => x.Record.ContributionId),
            Number<ReleasedSite>("decimal_latitude", "degrees north, WGS 84", "Published latitude (Darwin Core decimalLatitude); missing where impossible.", x => x.Place.LatitudeDegrees),
            Number<ReleasedSite>("decimal_longitude", "degrees east, WGS 84", "Published longitude (Darwin Core decimalLongitude); missing where impossible.", x => x.Place.LongitudeDegrees),
            Number<ReleasedSite>("coordinate_uncertainty_m", "m", "Radius that holds the true place (Darwin Core coordinateUncertaintyInMeters).", x => x.Place.UncertaintyMetres),
            YesNo<ReleasedSite>("coordinates_generalised", "Whether the published point is the centre of a 0.1 degree cell that hides a sensitive site.", x => x.Place.IsGeneralised),
            Text<ReleasedSite>("country_code", "ISO 3166-1 alpha-2 code as stated.", x => x.Record.Row.CountryCode),
            Text<ReleasedSite>("ecosystem", "Ecosystem as stated.", x => x.Record.Row.Ecosystem),
            Text<ReleasedSite>("land_use", "Land use as stated.", x => x.Record.Row.LandUse),
            Text<ReleasedSite>("management", "conventional, organic, none or other.", x => x.Record.Row.Management),
            Text<ReleasedSite>("management_note", "Management in the contributor's words; not published for a site marked sensitive.", x => x.Place.IsSensitive ? null : x.Record.Row.ManagementNote),
            Number<ReleasedSite>("elevation_m", "m", "Elevation as stated; not published for a site marked sensitive.", x => x.Place.IsSensitive ? null : x.Record.Row.ElevationMetres),
            Text<ReleasedSite>("use", "accepted, suspect or rejected.", x => AtlasCode.Of(x.Verdict.Use)),
            Text<ReleasedSite>("use_because", "Flag codes that decided the use.", x => x.Verdict.Because),
            Binary<ReleasedSite>("geometry", "Point as well-known binary, WGS 84, longitude first.", WellKnownBinary),
        ],
        [BlockKey<ReleasedSite>(x => x.Place)]);

    public static Table<Released<SiteCampaign>> SiteCampaigns { get; } = new(
        "site_campaigns",
        "One row a site, campaign and treatment: mean, scatter and 95 % t interval over the accepted burials.",
        ["site_key", "campaign", "treatment"],
        [
            Text<Released<SiteCampaign>>("site_key", "The site.", x => x.Record.SiteKey),
            Text<Released<SiteCampaign>>("campaign", "The campaign.", x => x.Record.Campaign),
            Text<Released<SiteCampaign>>("treatment", "The treatment of the plots; missing for untreated ones.", x => x.Record.Treatment),
            WholeNumber<Released<SiteCampaign>>("burials", null, "Burials, whatever their use.", x => x.Record.Burials),
            Date<Released<SiteCampaign>>("first_buried_on", "Earliest burial among the accepted.", x => x.Record.FirstBuriedOn),
            Date<Released<SiteCampaign>>("last_retrieved_on", "Latest retrieval among the accepted.", x => x.Record.LastRetrievedOn),
            WholeNumber<Released<SiteCampaign>>("k_burials", null, "Accepted burials that have a k.", x => x.Record.RatePerDay?.Count ?? 0),
            Number<Released<SiteCampaign>>("k_mean_per_day", "d-1", "Mean k.", x => x.Record.RatePerDay?.Mean),
            Number<Released<SiteCampaign>>("k_sd_per_day", "d-1", "Standard deviation of k between burials.", x => x.Record.RatePerDay?.Sd),
            Number<Released<SiteCampaign>>("k_lower95_per_day", "d-1", "Lower end of the 95 % t interval of the mean k; replicate scatter only.", x => x.Record.RatePerDay?.Lower95),
            Number<Released<SiteCampaign>>("k_upper95_per_day", "d-1", "Upper end of that interval.", x => x.Record.RatePerDay?.Upper95),
            Number<Released<SiteCampaign>>("k_mean_u_lot_per_day", "d-1", "Standard uncertainty of the mean k from lot chemistry, which averaging does not shrink.", x => x.Record.RateLotUncertaintyPerDay),
            Number<Released<SiteCampaign>>("k_combined_lower95_per_day", "d-1", "Lower end of the 95 % interval of the mean k that holds replicate scatter and lot chemistry; missing with fewer than two burials, or where all agree. Where plots hold several burials, plots are the replicates and the middle of the interval is the mean of the plots.", x => x.Record.CombinedRatePerDay?.Lower95),
            Number<Released<SiteCampaign>>("k_combined_upper95_per_day", "d-1", "Upper end of that interval.", x => x.Record.CombinedRatePerDay?.Upper95),
            WholeNumber<Released<SiteCampaign>>("ln_k_burials", null, "Accepted burials with k above 0.", x => x.Record.LnRate?.Count ?? 0),
            Number<Released<SiteCampaign>>("ln_k_mean", "ln(d-1)", "Mean of ln k.", x => x.Record.LnRate?.Mean),
            Number<Released<SiteCampaign>>("ln_k_sd", "ln(d-1)", "Standard deviation of ln k between burials.", x => x.Record.LnRate?.Sd),
            WholeNumber<Released<SiteCampaign>>("s_burials", null, "Accepted burials that have an S.", x => x.Record.Stabilisation?.Count ?? 0),
            Number<Released<SiteCampaign>>("s_mean", "1", "Mean S.", x => x.Record.Stabilisation?.Mean),
            Number<Released<SiteCampaign>>("s_sd", "1", "Standard deviation of S between burials.", x => x.Record.Stabilisation?.Sd),
            Number<Released<SiteCampaign>>("s_lower95", "1", "Lower end of the 95 % t interval of the mean S.", x => x.Record.Stabilisation?.Lower95),
            Number<Released<SiteCampaign>>("s_upper95", "1", "Upper end of that interval.", x => x.Record.Stabilisation?.Upper95),
            Number<Released<SiteCampaign>>("s_mean_u_lot", "1", "Standard uncertainty of the mean S from lot chemistry.", x => x.Record.StabilisationLotUncertainty),
        ]);

    private static readonly WKBWriter Wkb = new();

    private static byte[]? WellKnownBinary(ReleasedSite site) =>
        site.Place is { LongitudeDegrees: { } longitude, LatitudeDegrees: { } latitude }
            ? Wkb.Write(new Point(longitude, latitude))
            : null;
}
