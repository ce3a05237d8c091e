using DecayAtlas.Atlas.Records;
using static DecayAtlas.Atlas.Tables.Column;

namespace DecayAtlas.Atlas.Tables;

public static partial class AtlasTables
{
    public static Table<CovariateValue> Covariates { get; } = new(
        "covariates",
        "One row a site and covariate that is the same for every burial there: the value that the grids give the site, and how it was got.",
        ["site_key", "covariate"],
        [
            Text<CovariateValue>("site_key", "The site.", x => x.SiteKey),
            Text<CovariateValue>("covariate", "Name of the covariate in the grid catalogue.", x => x.Covariate),
            Number<CovariateValue>("value", "see unit", "Value at the site; missing where the grids have none there, and for classes that are names.", x => x.Value),
            Text<CovariateValue>("label", "Name of the class or map unit, for covariates that are names.", x => x.Label),
            .. HowItWasGot<CovariateValue>(x => x),
        ]);

    public static Table<BurialCovariate> BurialCovariates { get; } = new(
        "burial_covariates",
        "One row a burial and covariate that differs between burials of one site: soil layers weighted to the bag's depth, and months or dated series weighted by the days it was buried.",
        ["contribution_id", "burial_id", "covariate"],
        [
            Text<BurialCovariate>("contribution_id", "Contribution of the burial.", x => x.ContributionId),
            Text<BurialCovariate>("burial_id", "The burial.", x => x.BurialId),
            Text<BurialCovariate>("site_key", "Its site.", x => x.Value.SiteKey),
            Text<BurialCovariate>("covariate", "Name of the covariate in the grid catalogue.", x => x.Value.Covariate),
            Number<BurialCovariate>("value", "see unit", "What the bag felt; missing where status says why.", x => x.Value.Value),
            .. HowItWasGot<BurialCovariate>(x => x.Value),
        ]);

    public static Table<CampaignCovariate> CampaignCovariates { get; } = new(
        "campaign_covariates",
        "One row a site, campaign, treatment and covariate of burial_covariates: the mean over the burials whose ln k site_campaigns averages. The model is trained on these.",
        ["site_key", "campaign", "treatment", "covariate"],
        [
            Text<CampaignCovariate>("site_key", "The site.", x => x.SiteKey),
            Text<CampaignCovariate>("campaign", "The campaign.", x => x.Campaign),
            Text<CampaignCovariate>("treatment", "The treatment of the plots; missing for untreated ones.", x => x.Treatment),
            Text<CampaignCovariate>("covariate", "Name of the covariate.", x => x.Covariate),
            Number<CampaignCovariate>("value_mean", "see unit", "Mean over those burials that have a value.", x => x.Values.Count == 0 ? null : x.Values.Average()),
            Number<CampaignCovariate>("value_min", "see unit", "Smallest of their values.", x => x.Values.Count == 0 ? null : x.Values.Min()),
            Number<CampaignCovariate>("value_max", "see unit", "Largest of their values.", x => x.Values.Count == 0 ? null : x.Values.Max()),
            Text<CampaignCovariate>("unit", "Unit of the value.", x => x.Unit),
            WholeNumber<CampaignCovariate>("burials", null, "Accepted burials with k above 0 that have a value; missing where withheld.", x => x.IsWithheld ? null : x.Values.Count),
            YesNo<CampaignCovariate>("is_withheld", "Whether the values are withheld, since the site is marked sensitive.", x => x.IsWithheld),
        ]);

    private static IEnumerable<Column<T>> HowItWasGot<T>(Func<T, CovariateValue> value) =>
    [
        Number<T>("value_sd", "see unit", "Standard deviation of the values under the circle of the site's uncertainty; missing for rules other than disc, and for several layers.", x => value(x).StandardDeviation),
        Number<T>("valid_share", "1", "Share of that circle that lies on cells with a value, of several layers the smallest; missing for rules without a circle.", x => value(x).ValidShare),
        Number<T>("covered_share", "1", "Share of the bag's height, or of the days it was buried, that the layers describe; missing for a covariate of one layer.", x => value(x).CoveredShare),
        Text<T>("unit", "Unit of the value.", x => value(x).Unit),
        Text<T>("rule", "Sampling rule that was really used: nearest, bilinear, disc (mean over the circle of the site's uncertainty) or mode (commonest class in it); several, where layers differ.", x => value(x).Rule),
        Text<T>("status", "sampled; nearest-valid, when the nearest valid cell stood in; missing; outside, when a grid does not reach the site; no-dates or no-depth, when the burial does not state what is needed; not-covered, when the layers do not describe half of the bag or the series not every day; undefined, when the formula has no value there; withheld, for a site marked sensitive, whose values would give its place away.", x => value(x).Status),
        Number<T>("distance_m", "m", "Ground distance from the site to the centre of the cell used, of several layers the largest; missing when interpolated or withheld.", x => value(x).DistanceMetres),
        Text<T>("layers", "The layers used and the weight of each, for example month 5 x 0.133333; missing for a covariate of one layer.", x => value(x).Layers),
        Text<T>("formula", "Formula, its source and its inputs, for a value computed from other covariates.", x => value(x).Formula),
        Text<T>("grid_fingerprint", "SHA-256 of the grid file; of several, each once, joined by a space.", x => value(x).GridFingerprint),
    ];
}
