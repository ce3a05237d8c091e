using static DecayAtlas.Atlas.Records.Severity;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>Every flag the pipeline can raise. This is where a flag is added; docs/flags.md is made from it.</summary>
public static class FlagCatalogue
{
    public static FlagDefinition MassGain { get; } = new(
        "mass-gain", "physical", Reject, RecordKind.Bag,
        "The bag holds more litter after burial than before. Soil stuck to the litter, a swapped weighing or a damp bag are the usual causes.",
        "w > 1 + 2 u(w), with u(w) the bag's own standard uncertainty.",
        "Check the two masses and the drying. If soil sticks to the litter, measure its ash and send the ash fraction.");

    public static FlagDefinition MassGainWithinWeighing { get; } = new(
        "mass-gain-within-weighing", "physical", Note, RecordKind.Bag,
        "The bag weighs a little more after burial than before, no more than the balance explains. Leaving such bags out would bias the mean upwards, so they stay.",
        "1 < w ≤ 1 + 2 u(w).",
        "Nothing to do; a finer balance helps.");

    public static FlagDefinition LossExceedsLitter { get; } = new(
        "loss-exceeds-litter", "physical", Reject, RecordKind.Bag,
        "More mass is gone than there was litter, or there was no litter to begin with: the final mass is below the tare, or the initial mass is not above it.",
        "final mass < tare, or initial mass ≤ tare (tare 0 for litter-only masses).",
        "Check whether the masses include the bag (mass_basis) and whether the tare of the lot is right.");

    public static FlagDefinition FastLossBeyondHydrolysable { get; } = new(
        "fast-loss-beyond-hydrolysable", "physical", Suspect, RecordKind.Burial,
        "The fast litter lost more than its hydrolysable fraction, so that S is below zero by more than its uncertainty. Litter has fallen out, or the lot's chemistry does not fit.",
        "S < -2 u(S).",
        "Check the bag for holes, and the lot id.");

    public static FlagDefinition SlowLossAtPlateau { get; } = new(
        "slow-loss-at-plateau", "physical", Suspect, RecordKind.Burial,
        "The slow litter lost all that S lets it lose, or more, so that k does not exist.",
        "w_s ≤ 1 - a_s.",
        "Check both bags for holes and swapped labels. A shorter exposure may be needed where it is very warm.");

    public static FlagDefinition RetrievedBeforeBuried { get; } = new(
        "retrieved-before-buried", "physical", Reject, RecordKind.Bag,
        "The retrieval date is not later than the burial date.",
        "retrieved_on ≤ buried_on.",
        "Check both dates, and the order of day and month.");

    public static FlagDefinition RetrievedInFuture { get; } = new(
        "retrieved-in-future", "physical", Reject, RecordKind.Bag,
        "The retrieval date is later than the day on which the contribution was made, or later than the as-of day of the run.",
        "retrieved_on > created of the contribution, or > as_of.",
        "Check the year of the retrieval date.");

    public static FlagDefinition ExposureShort { get; } = new(
        "exposure-short", "protocol", Suspect, RecordKind.Bag,
        "The bag was dug up too early for the fast litter to have reached its plateau.",
        "exposure < exposure_days.min (60 d by default; common practice, no source).",
        "Check the dates.");

    public static FlagDefinition ExposureLong { get; } = new(
        "exposure-long", "protocol", Suspect, RecordKind.Bag,
        "The bag lay so long that the litter's slow part may have begun to decompose.",
        "exposure > exposure_days.max (120 d by default; common practice, no source).",
        "Check the dates.");

    public static FlagDefinition DepthOutOfRange { get; } = new(
        "depth-out-of-range", "protocol", Suspect, RecordKind.Bag,
        "The burial depth is off the protocol's.",
        "depth_cm outside depth_cm.min to depth_cm.max (6 to 10 cm by default; common practice, no source).",
        "Check the unit: the depth is in centimetres.");

    public static FlagDefinition UnusedMaterialNo { get; } = new(
        "unused-material-no", "protocol", Reject, RecordKind.Bag,
        "The litter had been used before it was buried. It has lost its soluble part and is another substrate.",
        "unused_material is no.",
        "Keep such bags out of the campaign, or correct the column if it was filled by mistake.");

    public static FlagDefinition TareMissing { get; } = new(
        "tare-missing", "protocol", Suspect, RecordKind.Bag,
        "The masses include the bag, and the lot gives no tare to take off.",
        "mass_basis is gross and the lot's tare_g is empty.",
        "Weigh ten empty bags with string and label, and send their mean and standard deviation with the lot.");

    public static FlagDefinition BalanceCoarse { get; } = new(
        "balance-coarse", "protocol", Suspect, RecordKind.Bag,
        "The balance is too coarse for bags of a few grams.",
        "balance_resolution_g > balance_max_g (0.05 g by default; common practice, no source).",
        "Use a balance that reads 0.01 g; a school or a shop may lend one.");

    public static FlagDefinition BalanceUnstated { get; } = new(
        "balance-unstated", "protocol", Note, RecordKind.Bag,
        "The resolution of the balance was not sent; the default of the run was assumed.",
        "balance_resolution_g is empty.",
        "Send the resolution.");

    public static FlagDefinition BagDamaged { get; } = new(
        "bag-damaged", "protocol", Suspect, RecordKind.Bag,
        "The bag came up torn, or with roots grown in, so that its mass is not that of the litter.",
        "condition is torn or roots.",
        "Nothing to mend; thank you for saying so.");

    public static FlagDefinition BagLost { get; } = new(
        "bag-lost", "protocol", Note, RecordKind.Bag,
        "The bag was not found again.",
        "condition is lost.",
        "Nothing to mend; thank you for saying so.");

    public static FlagDefinition PairIncomplete { get; } = new(
        "pair-incomplete", "protocol", Note, RecordKind.Burial,
        "The burial does not consist of exactly one fast and one slow bag, so that k does not exist.",
        "number of fast bags ≠ 1, or number of slow bags ≠ 1.",
        "Check burial_id and role of its bags.");

    public static FlagDefinition PairDatesDiffer { get; } = new(
        "pair-dates-differ", "protocol", Suspect, RecordKind.Burial,
        "The two bags of the burial did not lie together: their dates differ.",
        "buried_on of the fast and the slow bag differ, or retrieved_on where both are given.",
        "Check the dates, or give the bags burial ids of their own.");

    public static FlagDefinition PairSitesDiffer { get; } = new(
        "pair-sites-differ", "protocol", Reject, RecordKind.Burial,
        "The bags of the burial lay at different sites: they are no pair.",
        "site_id of its bags differ.",
        "Check site_id, or give the bags burial ids of their own.");

    public static FlagDefinition PairPlotsDiffer { get; } = new(
        "pair-plots-differ", "protocol", Suspect, RecordKind.Burial,
        "The two bags of the burial lay in different plots or under different treatments, so that the S of one does not hold for the other.",
        "plot or treatment of the fast and the slow bag differ.",
        "Check plot and treatment, or give the bags burial ids of their own.");

    public static FlagDefinition RoleDiffersFromLot { get; } = new(
        "role-differs-from-lot", "protocol", Reject, RecordKind.Bag,
        "The bag says fast and its lot says slow, or the other way round.",
        "role of the bag ≠ role of its lot.",
        "Check lot_id and role.");

    public static FlagDefinition MassInitialOffNominal { get; } = new(
        "mass-initial-off-nominal", "protocol", Suspect, RecordKind.Bag,
        "The initial litter mass is further from the lot's nominal mass than the lot allows.",
        "|initial mass - tare - litter_mass_nominal_g| > litter_mass_tolerance_g.",
        "Check the initial mass, its unit (grams), and mass_basis.");

    public static FlagDefinition AshWithoutLotAsh { get; } = new(
        "ash-without-lot-ash", "protocol", Note, RecordKind.Bag,
        "The ash of the retrieved litter was measured, but the lot's ash is not known, so that no ash-free mass could be computed.",
        "ash_fraction of the bag is given and that of the lot is not.",
        "Ask for the ash fraction of the lot.");

    public static FlagDefinition DryingNotOven { get; } = new(
        "drying-not-oven", "protocol", Note, RecordKind.Bag,
        "The litter was not oven-dried; the final mass may hold some water.",
        "drying is given and is not oven.",
        "Say how the litter was dried; where an oven can be borrowed, use it.");

    public static FlagDefinition CoordinatesImpossible { get; } = new(
        "coordinates-impossible", "place", Reject, RecordKind.Site,
        "Latitude is beyond 90 degrees or longitude beyond 180.",
        "|decimal_latitude| > 90 or |decimal_longitude| > 180.",
        "Check both, the sign, and the decimal point.");

    public static FlagDefinition CoordinatesZero { get; } = new(
        "coordinates-zero", "place", Reject, RecordKind.Site,
        "Both coordinates are exactly zero, which is open ocean and the usual sign of an empty cell.",
        "decimal_latitude = 0 and decimal_longitude = 0.",
        "Send the coordinates.");

    public static FlagDefinition CoordinatesSwapped { get; } = new(
        "coordinates-swapped", "place", Suspect, RecordKind.Site,
        "Latitude and longitude look exchanged.",
        "exchanged, the point lies in the stated country, or within country_distance_m of it, and as sent it does not; without country outlines: |latitude| > 90 and |longitude| ≤ 90.",
        "Exchange the two columns.");

    public static FlagDefinition CoordinatesCoarse { get; } = new(
        "coordinates-coarse", "place", Suspect, RecordKind.Site,
        "The place is known too roughly to say which soil and climate it has.",
        "coordinate_uncertainty_m > coordinate_uncertainty_max_m (5000 m by default).",
        "Read the place from a map or a phone.");

    public static FlagDefinition CoordinatesUnstated { get; } = new(
        "coordinates-unstated", "place", Note, RecordKind.Site,
        "How well the place is known was not sent.",
        "coordinate_uncertainty_m is empty.",
        "Send it; a phone shows it beside the coordinates.");

    public static FlagDefinition SiteMoved { get; } = new(
        "site-moved", "place", Suspect, RecordKind.Site,
        "Two contributions of one group give the same site different places.",
        "distance > site_moved_m (200 m by default) + both stated uncertainties.",
        "Give the new place a site id of its own, or correct the coordinates.");

    public static FlagDefinition CovariateMissing { get; } = new(
        "covariate-missing", "place", Suspect, RecordKind.Site,
        "At least one grid has no value at the site or near it. The site may lie in the sea, or outside the grids.",
        "a covariate is missing after the catalogue's search distance.",
        "Check the coordinates; else ask for a grid that reaches the site.");

    public static FlagDefinition FarFromCountry { get; } = new(
        "far-from-country", "place", Suspect, RecordKind.Site,
        "The site lies far from the country it says it is in.",
        "distance to the outline of country_code > country_distance_m (10 km by default) + stated uncertainty.",
        "Check the coordinates and the country code.");

    public static FlagDefinition CountryUnknown { get; } = new(
        "country-unknown", "place", Note, RecordKind.Site,
        "The outlines of the run have no country of this code, so that the place could not be held against it.",
        "country_code is given and is not in the file countries.",
        "Check the code: ISO 3166-1, two letters. If it is right, ask the curator for a larger file of outlines.");

    public static FlagDefinition BagRepeated { get; } = new(
        "bag-repeated", "copy", Suspect, RecordKind.Bag,
        "The same bag was sent before: same site, lot, dates and masses. The first one stands.",
        "site, plot, replicate, role, lot, both dates and both masses equal those of an earlier bag (in the order of contribution, then row); bags of one contribution without a replicate number must be weighed to 0.001 g, since coarser ones may agree by chance.",
        "Remove the copy.");

    public static FlagDefinition MassesRepeated { get; } = new(
        "masses-repeated", "copy", Suspect, RecordKind.Burial,
        "All four masses of the burial are those of a burial at another site of the same group: the numbers were pasted.",
        "both initial and both final masses equal those of a burial of the same contributor at another site; where the balance is coarser than 0.01 g, at least two burials of the two sites must agree, since one may by chance.",
        "Check which site the numbers belong to.");

    public static FlagDefinition MassesRepeatedAcross { get; } = new(
        "masses-repeated-across", "copy", Note, RecordKind.Burial,
        "All four masses of the burial are those of a burial that another group sent, and so are those of more burials of the two contributions than chance allows. One burial was sent by two groups, or numbers were pasted.",
        "balances of 0.01 g or finer; at least 2 burials of the two contributions agree in both initial and both final masses, and so many that fewer than pasted_across_level (0.01 by default) pairs of contributions of the whole atlas would agree so by chance (Poisson, its mean from the share of all pairs of burials of different groups that agree). measured: burials that agree; limit: how many chance lets agree.",
        "Settle with both groups whose burial it is, and withdraw or correct the other. A note bears on no use: until then the burial counts twice.");

    public static FlagDefinition LotDisagreement { get; } = new(
        "lot-disagreement", "copy", Note, RecordKind.Lot,
        "Contributions disagree on the chemistry of a lot. Each contribution is computed with what it states.",
        "the hydrolysable fraction differs by more than 0.0005 from that which most contributions state for the lot.",
        "Compare with the sheet that came with the lot.");

    public static FlagDefinition ReplicateOutlier { get; } = new(
        "replicate-outlier", "outlier", Suspect, RecordKind.Burial,
        "k or S of the burial stands far apart from the other burials of the same site, campaign and treatment. A swapped label, lost litter or a slip of the pen are the usual causes; a wet hollow or an ant nest are real, and a curator may let them stand.",
        "ln k or S, among the burials of the site, campaign and treatment that no other flag on them or their bags sets aside: 5 to 14 burials, |modified z-score| above its simulated cut-off for n, or Grubbs' T above its critical value (ASTM E178), each at half the level, for the one sees two outliers and the other sees one more sharply; 15 and more, generalised ESD, at most one in five looked for; and further from the median than 2 u of the burial's own weighing. Fewer than 5 burials are never judged, nor fewer than 15 of which more than half agree to the last digit. replicate_outlier_level (0.01 by default) is the share of sound sites at which either quantity would be flagged by chance.",
        "Check both bags' masses and labels. If they are right, ask the curator to overrule the flag: a true extreme belongs to the site.");

    public static FlagDefinition DigitPreferred { get; } = new(
        "digit-preference", "outlier", Note, RecordKind.Contribution,
        "The last digits of the final masses do not come up equally often. Readings were rounded by eye, the balance reads in coarser steps than stated, or numbers were made up.",
        "Pearson's chi-square of the last digits against equal shares, 9 degrees of freedom, P < digit_preference_level (0.001 by default); for at least 50 final masses read to a stated power of ten, each litter's ranging over 20 steps of the balance or more.",
        "Check what the balance shows, and send its true resolution; send masses as read.");

    public static FlagDefinition MultivariateOutlier { get; } = new(
        "multivariate-outlier", "outlier", Note, RecordKind.Burial,
        "S and ln k of the burial, taken together, lie far from the other burials of the site. The scatter of many sites tells what is far, so that an odd burial is seen beside two others, where replicate-outlier can't judge. S and ln k hold both mass losses; a slip in either mass, or two bags exchanged, moves both.",
        "squared robust distance of the difference from the mean of the site's other burials > the 1 - multivariate_outlier_level quantile of chi-square with 2 degrees of freedom (0.0005 by default, a distance of 3.9). The scatter is that of all accepted burials of the ecosystem in the campaign about their site means (fast minimum covariance determinant), where they are 50 or more, else of the whole campaign; each burial's own measuring errors are added. Sites with 3 burials or more are judged; at most a third of a site is noted.",
        "Check both bags' masses and labels; a real extreme may stand.");

    public static FlagDefinition ContributorBias { get; } = new(
        "contributor-bias", "outlier", Note, RecordKind.Contribution,
        "The contribution as a whole lies off what the others say: its bags weigh more or less before burial than other groups' bags of the same lots, as on a balance that reads high, or with a wrong tare; or k or S of its sites is higher or lower than their covariates let expect, as when litter was not dried.",
        "|z| > contributor_bias_limit (3 by default, the action limit of ISO 13528:2015). z = (mean - robust mean of the contributions)/√(τ² + s²/n), with τ the robust standard deviation between contributions and s that within them. Initial litter masses: less the consensus on the lot, for lots that 5 contributions use. ln k and S: residuals of the regression behind surprise, contributions with 3 sites or more, sensitive sites left out. measured: how far off; limit: how far off it might be.",
        "Check the balance with a known mass, the tare of the lots, and the drying. A bias of both weighings hardly moves k.");

    public static FlagDefinition Surprise { get; } = new(
        "surprise", "outlier", Note, RecordKind.Site,
        "Mean ln k or S of the site is far from what a model of other regions expects from its covariates, and outside what the sites most alike have. A wrong place, wrong litter or wrong dates look like this; so does a real discovery.",
        "|observed - expected|/sd > surprise_limit (4 by default), and outside the range of the 10 sites of other folds with the most similar covariates. Expected: robust regression (Huber) on all numeric covariates and their squares, fitted without the fold of spatial blocks (surprise_block_degrees, 1 by default) that holds the site; sd: scatter between sites, the site's replicates, and the fit. Accepted sites, untreated plots. Needs numeric grids and ten rows a term (five, without squares, at the least). It does not depend on the trained model.",
        "Check coordinates, dates, lots and masses. If they are right, look at the soil: this is where something is to be learnt.");

    /// <summary>Every definition, by family and severity as the documentation lists them.</summary>
    public static IReadOnlyList<FlagDefinition> All { get; } =
    [
        MassGain, MassGainWithinWeighing, LossExceedsLitter, FastLossBeyondHydrolysable, SlowLossAtPlateau,
        RetrievedBeforeBuried, RetrievedInFuture,
        ExposureShort, ExposureLong, DepthOutOfRange, UnusedMaterialNo, TareMissing, BalanceCoarse, BalanceUnstated,
        BagDamaged, BagLost, PairIncomplete, PairDatesDiffer, PairSitesDiffer, PairPlotsDiffer, RoleDiffersFromLot, MassInitialOffNominal,
        AshWithoutLotAsh, DryingNotOven,
        CoordinatesImpossible, CoordinatesZero, CoordinatesSwapped, CoordinatesCoarse, CoordinatesUnstated,
        SiteMoved, CovariateMissing, FarFromCountry, CountryUnknown,
        BagRepeated, MassesRepeated, MassesRepeatedAcross, LotDisagreement,
        ReplicateOutlier, MultivariateOutlier, DigitPreferred, ContributorBias, Surprise,
    ];
}
