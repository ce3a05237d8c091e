using DecayAtlas.Decomposition;
using static DecayAtlas.Atlas.Tables.Column;
using ReleasedBag = DecayAtlas.Atlas.Tables.Released<DecayAtlas.Atlas.Records.Bag>;
using ReleasedBurial = DecayAtlas.Atlas.Tables.Released<DecayAtlas.Atlas.Records.Burial>;

namespace DecayAtlas.Atlas.Tables;

public static partial class AtlasTables
{
    public static Table<ReleasedBag> Bags { get; } = new(
        "bags",
        "One row a litter bag: what was sent, the remaining fraction it gives, and its use.",
        ["contribution_id", "bag_id"],
        [
            Text<ReleasedBag>("contribution_id", "Contribution that brought the bag.", x => x.Record.Header.ContributionId),
            Text<ReleasedBag>("bag_id", "Id of the bag in its contribution.", x => x.Record.Row.BagId),
            Text<ReleasedBag>("burial_id", "Burial it belongs to: one fast and one slow bag that lay together.", x => x.Record.Row.BurialId),
            Text<ReleasedBag>("site_key", "Site it lay at.", x => x.Record.SiteKey),
            Text<ReleasedBag>("campaign", "Campaign.", x => x.Record.Header.Campaign),
            Text<ReleasedBag>("plot", "Plot within the site.", x => x.Record.Row.Plot),
            Text<ReleasedBag>("replicate", "Replicate within the plot.", x => x.Record.Row.Replicate),
            Text<ReleasedBag>("lot_id", "Production lot of the litter.", x => x.Record.Row.LotId),
            Text<ReleasedBag>("role", "fast or slow.", x => AtlasCode.Of(x.Record.Row.Role)),
            Text<ReleasedBag>("treatment", "Treatment of the plot, for example warmed.", x => x.Record.Row.Treatment),
            Number<ReleasedBag>("mass_initial_g", "g", "Dry mass before burial, as sent.", x => x.Record.Row.MassInitialGrams),
            Number<ReleasedBag>("mass_final_g", "g", "Dry mass after retrieval, as sent.", x => x.Record.Row.MassFinalGrams),
            Text<ReleasedBag>("mass_basis", "gross (bag, string and label included) or litter.", x => AtlasCode.Of(x.Record.Row.MassBasis)),
            Text<ReleasedBag>("drying", "oven, air, freeze or none.", x => x.Record.Row.Drying is { } drying ? AtlasCode.Of(drying) : null),
            Number<ReleasedBag>("drying_temperature_c", "degC", "Drying temperature.", x => x.Record.Row.DryingTemperatureCelsius),
            Number<ReleasedBag>("ash_fraction", "1", "Ash share of the retrieved dry litter.", x => x.Record.Row.AshFraction),
            Date<ReleasedBag>("buried_on", "Burial date.", x => x.Record.Row.BuriedOn),
            Date<ReleasedBag>("retrieved_on", "Retrieval date.", x => x.Record.Row.RetrievedOn),
            Number<ReleasedBag>("depth_cm", "cm", "Burial depth.", x => x.Record.Row.DepthCentimetres),
            Text<ReleasedBag>("condition", "intact, torn, roots or lost.", x => x.Record.Row.Condition is { } condition ? AtlasCode.Of(condition) : null),
            YesNo<ReleasedBag>("unused_material", "Whether the litter was unused when buried; used litter is another substrate.", x => x.Record.Row.UnusedMaterial),
            Number<ReleasedBag>("balance_resolution_g", "g", "Resolution of the balance.", x => x.Record.Row.BalanceResolutionGrams),
            Number<ReleasedBag>("remaining_fraction", "1", "Remaining over initial litter mass, w; tare removed, ash-free where measured.", x => x.Record.Remaining.Value?.Fraction),
            Number<ReleasedBag>("remaining_fraction_u", "1", "Standard uncertainty of w from this bag alone.", x => x.Record.Remaining.Value?.UncertaintyBag),
            YesNo<ReleasedBag>("remaining_is_ash_free", "Whether w is on an ash-free basis.", x => x.Record.Remaining.Value?.IsAshFree),
            Text<ReleasedBag>("remaining_missing_because", "Why w is missing.", x => x.Record.Remaining.Reason?.Code()),
            Text<ReleasedBag>("use", "accepted, suspect or rejected.", x => AtlasCode.Of(x.Verdict.Use)),
            Text<ReleasedBag>("use_because", "Flag codes that decided the use.", x => x.Verdict.Because),
        ],
        [YearKey<ReleasedBag>(x => x.Record.Row.RetrievedOn), BlockKey<ReleasedBag>(x => x.Place)]);

    public static Table<ReleasedBurial> Burials { get; } = new(
        "burials",
        "One row a burial: stabilisation factor S and decay rate k with first-order standard uncertainty, split into what belongs to the burial and what it shares with its lots.",
        ["contribution_id", "burial_id"],
        [
            Text<ReleasedBurial>("contribution_id", "Contribution that brought the burial.", x => x.Record.Header.ContributionId),
            Text<ReleasedBurial>("burial_id", "Id of the burial in its contribution.", x => x.Record.BurialId),
            Text<ReleasedBurial>("site_key", "Site.", x => x.Record.SiteKey),
            Text<ReleasedBurial>("campaign", "Campaign.", x => x.Record.Header.Campaign),
            Text<ReleasedBurial>("plot", "Plot within the site.", x => x.Record.Lead.Row.Plot),
            Text<ReleasedBurial>("treatment", "Treatment of the plot.", x => x.Record.Lead.Row.Treatment),
            Text<ReleasedBurial>("fast_bag_id", "Bag of the fast litter.", x => x.Record.Fast?.Row.BagId),
            Text<ReleasedBurial>("slow_bag_id", "Bag of the slow litter.", x => x.Record.Slow?.Row.BagId),
            Date<ReleasedBurial>("buried_on", "Burial date.", x => x.Record.BuriedOn),
            Date<ReleasedBurial>("retrieved_on", "Retrieval date.", x => x.Record.RetrievedOn),
            WholeNumber<ReleasedBurial>("exposure_days", "d", "Days from burial to retrieval.", x => x.Record.ExposureDays),
            Number<ReleasedBurial>("depth_cm", "cm", "Burial depth.", x => x.Record.Lead.Row.DepthCentimetres),
            Number<ReleasedBurial>("fast_remaining_fraction", "1", "Remaining fraction of the fast litter.", x => x.Record.Fast?.Remaining.Value?.Fraction),
            Number<ReleasedBurial>("slow_remaining_fraction", "1", "Remaining fraction of the slow litter.", x => x.Record.Slow?.Remaining.Value?.Fraction),
            Number<ReleasedBurial>("s", "1", "Stabilisation factor S.", x => x.Record.StabilisationFactor.Value?.Value),
            Number<ReleasedBurial>("s_u", "1", "Combined standard uncertainty of S.", x => x.Record.StabilisationFactor.Value?.Uncertainty),
            Number<ReleasedBurial>("s_u_bag", "1", "Part of it that belongs to this burial.", x => x.Record.StabilisationFactor.Value?.UncertaintyBag),
            Number<ReleasedBurial>("s_u_lot", "1", "Part of it that all bags of the lots share.", x => x.Record.StabilisationFactor.Value?.UncertaintyLot),
            Text<ReleasedBurial>("s_missing_because", "Why S is missing.", x => x.Record.StabilisationFactor.Reason?.Code()),
            Number<ReleasedBurial>("k_per_day", "d-1", "Decay rate k.", x => x.Record.RatePerDay.Value?.Value),
            Number<ReleasedBurial>("k_u_per_day", "d-1", "Combined standard uncertainty of k.", x => x.Record.RatePerDay.Value?.Uncertainty),
            Number<ReleasedBurial>("k_u_bag_per_day", "d-1", "Part of it that belongs to this burial.", x => x.Record.RatePerDay.Value?.UncertaintyBag),
            Number<ReleasedBurial>("k_u_lot_per_day", "d-1", "Part of it that all bags of the lots share.", x => x.Record.RatePerDay.Value?.UncertaintyLot),
            Number<ReleasedBurial>("k_s_cov_bag_per_day", "d-1", "Covariance of the errors of k and S from this burial's weighings, which both use.", x => x.Record.Rate.Value?.CovarianceBag),
            Number<ReleasedBurial>("k_s_cov_lot_per_day", "d-1", "Covariance of the errors of k and S from the lots' chemistry.", x => x.Record.Rate.Value?.CovarianceLot),
            Text<ReleasedBurial>("k_missing_because", "Why k is missing.", x => x.Record.RatePerDay.Reason?.Code()),
            Text<ReleasedBurial>("use", "accepted, suspect or rejected.", x => AtlasCode.Of(x.Verdict.Use)),
            Text<ReleasedBurial>("use_because", "Flag codes that decided the use.", x => x.Verdict.Because),
        ],
        [YearKey<ReleasedBurial>(x => x.Record.RetrievedOn), BlockKey<ReleasedBurial>(x => x.Place)]);
}
