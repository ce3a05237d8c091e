namespace DecayAtlas.Demo.Output;

/// <summary>Writes what nobody knows in the field: the true rate everywhere, the true rate of each site, the faults.</summary>
internal static class TruthOutput
{
    public static void Write(
        string folder, InventedWorld world, DecayResponse response, StandardLots lots, IReadOnlyList<PlantedFault> faults,
        IEnumerable<SiteTruth> sites, IEnumerable<ContributionDraft> experiments)
    {
        string truth = Path.Combine(folder, "truth");
        Directory.CreateDirectory(truth);
        GridOutput.WriteRateMap(Path.Combine(truth, "decay-rate.tif"), response.RateMap());
        void Save(string name, string text) => File.WriteAllText(Path.Combine(truth, name), text);

        Save(PlantedFaults.FileName, CsvText.Of(faults, fault =>
        [
            ("contribution_id", fault.ContributionId),
            ("record_type", fault.RecordType),
            ("record_id", fault.RecordId),
            ("code", fault.Code),
            ("what", fault.What),
            ("follows_from", fault.FollowsFrom),
            ("size", fault.Size),
            ("size_of", fault.SizeOf),
        ]));
        Save("sites.csv", CsvText.Of(sites, site =>
        [
            ("contributor", site.ContributorId),
            ("site_id", site.SiteId),
            ("k_expected_per_day", Rate(site.ExpectedLnRate)),
            ("k_site_per_day", Rate(site.TrueLnRate)),
            ("s_site", $"{site.TrueStabilisation:F4}"),
        ]));
        Save("experiments.csv", CsvText.Of(experiments.SelectMany(c => c.Sites, (c, site) => (c.Contributor, Site: site)), x =>
        {
            double celsius = world.Temperature.At(x.Site.LongitudeDegrees, x.Site.LatitudeDegrees);
            bool isWarming = x.Contributor == ExperimentMaker.WarmingCentre;
            return
            [
                ("contributor", x.Contributor.Id),
                ("site_id", x.Site.SiteId),
                ("experiment", isWarming ? "warming" : "series"),
                ("temperature_c", $"{celsius:F3}"),
                ("k_site_per_day", Rate(x.Site.TrueLnRate)),
                ("k_fast_per_day", isWarming ? null : Rate(x.Site.TrueLnRate + Math.Log(DecayResponse.FastOverSlowRate))),
                ("s_site", $"{x.Site.TrueStabilisation:F4}"),
                ("ratio_warmed", isWarming ? $"{Math.Exp(DecayResponse.LnWarmingRatioAt(celsius)):F4}" : null),
            ];
        }));
        Save("lots.csv", CsvText.Of(lots.Fast.Concat(lots.Slow), lot =>
        [
            ("lot_id", lot.LotId),
            ("nonpolar_of_organic", $"{lot.Truth!.Nonpolar:F5}"),
            ("water_soluble_of_organic", $"{lot.Truth.WaterSoluble:F5}"),
            ("acid_soluble_of_organic", $"{lot.Truth.AcidSoluble:F5}"),
            ("ash_of_dry", $"{lot.Truth.Ash:F5}"),
            ("water_of_supplied", $"{lot.Truth.Water:F5}"),
        ]));
        Save("README.md", ReadmeOf(lots));
    }

    private static string LotLine(LotDraft lot) =>
        $"| {lot.LotId} | {lot.Truth!.Nonpolar:F4} | {lot.Truth.WaterSoluble:F4} | {lot.Truth.AcidSoluble:F4} | {lot.Truth.Ash:F4} "
        + $"| {lot.Truth.Water:F4} "
        + $"| {lot.Hydrolysable} | {(lot.IsAshFree ? "organic matter" : "dry mass")}"
        + $"{(lot.Nonpolar is null ? "" : ", without the non-polar")} |";

    private static string Rate(double lnRate) => $"{Math.Exp(lnRate):F6}";

    private static string ReadmeOf(StandardLots lots) => $"""
        # What is true of the invented islands

        Nothing here is real: not the islands, not the countries XA (Vessany) and XB (Torrel), not the groups, the litters
        or their lots. The folder exists so that a run of the pipeline can be held against the truth.

        - `decay-rate.tif`: the true decay rate k (per day) on the fine lattice, without the effects of single sites.
        - `sites.csv`: for each group's site the k that the response expects there, the k with the site's own effect, and the
          site's S. They are the site's truth before any position was spoiled.
        - `lots.csv`: what each lot is made of.
        - `experiments.csv`: for each site with a series of retrievals, k of both litters and S; for each site with warmed plots,
          k warmed over k control. The bags of a series are listed among the faults as consequences of `retrieval-series`, since a
          short or long exposure is flagged whatever it is for.
        - `planted-faults.csv`: every fault planted on purpose, with the code to expect on that record. A row with
          `follows_from` is a consequence: a flag that is right there, but that a pipeline may leave out once it has found
          the cause. Faults that come in sizes have `size`, and `size_of` says of what.

        ## The response

        ```
        ln k = ln 0.0125
             + 308.56 (1 / 56.02 - 1 / (T + 46.02))
             - 5.0 (M - 0.62)^2
             + 0.09 (pH - 6.2)
             - 0.005 (clay - 24)
             + land effect + site effect + burial effect
        S    = 0.28 - 0.011 (T - 10) - 0.22 (M - 0.55) + site effect + burial effect
        ```

        k per day; T mean annual air temperature (degC); M soil moisture index (0 to 1); clay in percent. The warmth term is
        that of Lloyd and Taylor 1994, Functional Ecology 8:315-323, equation 11; every other constant is invented.

        | effect | on ln k | on S |
        | --- | --- | --- |
        | site, normal, sd | {DecayResponse.SiteSdLnRate} | {DecayResponse.SiteSdStabilisation} |
        | burial, normal, sd | {DecayResponse.BurialSdLnRate} | {DecayResponse.BurialSdStabilisation} |
        | arable land, organic | +{DecayResponse.OrganicArableEffect} | |
        | arable land, conventional | {DecayResponse.ConventionalArableEffect} | |

        Round {-WarmGround.LatitudeDegrees} S, {-WarmGround.LongitudeDegrees} W, within {WarmGround.RadiusDegrees} degrees,
        the ground is warmed from below by up to {WarmGround.ExcessCelsius} degC, and ln k is less than the response says, by up to
        {WarmGround.LnRateLoss}. Nobody buries bags there: it is the place where a model must say that it does not know.

        Precipitation and elevation act through moisture and warmth only; seasons, soil carbon and soil units do not act at all.
        Sites lie where soil and climate let expect k of 0.003 to 0.021 per day; no site and no burial is chosen by its own k or S, which
        would bend the response. Burials that lost nearly all they can, or hardly anything, are listed among the faults as consequences
        of `near-a-limit`: chance may flag them.

        ## Means in place of weighings

        Two groups bury and weigh like all others, and then send no weighings: {SummaryMaker.FenArchive.Id} sends mean and standard
        deviation of the remaining fractions of each site, {SummaryMaker.HeathThesis.Id} mean and standard deviation of k and S, computed
        with hydrolysable fractions that are not those of its lots. Both must land on the truth of their sites in `sites.csv`.

        ## The weighings

        Of the organic matter of a litter the share D (1 - S) can decay. D is all that is not acid-insoluble (non-polar extractives, water
        soluble and acid soluble). The fast litter has lost the part 1 - exp(-{DecayResponse.FastOverSlowRate} k t) of it, the slow litter
        the part 1 - exp(-k t), t in days. After three months the fast litter has all but reached its plateau, but not on the coldest ground, nor in
        the early bags of a series: such burials are listed among the faults as consequences of `plateau`. Ash stays in the bag. Where ash
        was measured, soil stuck to the litter and added to it.
        Warmed plots are {DecayResponse.WarmingKelvin} K warmer than their controls, which acts through the warmth term alone.

        What a lot is made of (fractions of organic matter, ash of dry mass, water of mass as supplied), off by chance from what its sheet
        says, by the standard deviation that the sheet states:

        | lot | non-polar | water soluble | acid soluble | ash | water | sheet says H | of |
        | --- | --- | --- | --- | --- | --- | --- | --- |
        {string.Join("\n", lots.Fast.Concat(lots.Slow).Select(LotLine))}

        Groups treat the litter in five ways before the first weighing: oven-dried (a few thousandths of water stay), as supplied (the lot's
        water), dried in air (4.5 % of water; a subsample gave 4.8 %), and, in six groups that say nothing, oven-dried or as supplied. Gross
        masses carry the tare of the single bag, which scatters about that of the lot. Readings scatter by a quarter of the balance's step
        and are rounded to it.

        """.ReplaceLineEndings("\n");
}

/// <summary>What is true of one group's site.</summary>
internal sealed record SiteTruth(string ContributorId, string SiteId, double ExpectedLnRate, double TrueLnRate, double TrueStabilisation)
{
    public static SiteTruth Of(ContributionDraft contribution, SiteDraft site) =>
        new(contribution.Contributor.Id, site.SiteId, site.ExpectedLnRate, site.TrueLnRate, site.TrueStabilisation);
}
