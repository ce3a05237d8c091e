using System.Globalization;
using System.Text;
using nietras.SeparatedValues;

namespace DecayAtlas.Demo.Output;

/// <summary>Writes what nobody knows in the field: the true rate everywhere, the true rate of each site, the faults.</summary>
internal static class TruthOutput
{
    public static void Write(string folder, DecayResponse response, IReadOnlyList<SiteTruth> sites, IReadOnlyList<PlantedFault> faults)
    {
        string truth = Path.Combine(folder, "truth");
        Directory.CreateDirectory(truth);
        GridOutput.WriteRateMap(Path.Combine(truth, "decay-rate.tif"), response.RateMap());
        Save(Path.Combine(truth, PlantedFaults.FileName), faults, (fault, row) =>
        {
            row["contribution_id"].Set(fault.ContributionId);
            row["record_type"].Set(fault.RecordType);
            row["record_id"].Set(fault.RecordId);
            row["code"].Set(fault.Code);
            row["what"].Set(fault.What);
            row["follows_from"].Set(fault.FollowsFrom ?? "");
            row["size"].Set(fault.Size?.ToString(CultureInfo.InvariantCulture) ?? "");
            row["size_of"].Set(fault.SizeOf ?? "");
        });
        Save(Path.Combine(truth, "sites.csv"), sites, (site, row) =>
        {
            row["contributor"].Set(site.ContributorId);
            row["site_id"].Set(site.SiteId);
            row["k_expected_per_day"].Set(Rate(site.ExpectedLnRate));
            row["k_site_per_day"].Set(Rate(site.TrueLnRate));
            row["s_site"].Set(site.TrueStabilisation.ToString("F4", CultureInfo.InvariantCulture));
        });
        File.WriteAllText(Path.Combine(truth, "README.md"), Readme);
    }

    /// <summary>What is true of the sites with a series or with warmed plots.</summary>
    public static void WriteExperiments(string folder, IEnumerable<ContributionDraft> experiments, InventedWorld world) =>
        Save(Path.Combine(folder, "truth", "experiments.csv"),
            experiments.SelectMany(c => c.Sites.Select(site => (Contribution: c, Site: site))), (x, row) =>
        {
            double celsius = world.Temperature.At(x.Site.LongitudeDegrees, x.Site.LatitudeDegrees);
            bool isWarming = x.Contribution.Contributor == ExperimentMaker.WarmingCentre;
            row["contributor"].Set(x.Contribution.Contributor.Id);
            row["site_id"].Set(x.Site.SiteId);
            row["experiment"].Set(isWarming ? "warming" : "series");
            row["temperature_c"].Set(celsius.ToString("F3", CultureInfo.InvariantCulture));
            row["k_site_per_day"].Set(Rate(x.Site.TrueLnRate));
            row["k_fast_per_day"].Set(isWarming ? "" : Rate(x.Site.TrueLnRate + Math.Log(DecayResponse.FastOverSlowRate)));
            row["s_site"].Set(x.Site.TrueStabilisation.ToString("F4", CultureInfo.InvariantCulture));
            row["ratio_warmed"]
                .Set(isWarming ? Math.Exp(DecayResponse.LnWarmingRatioAt(celsius)).ToString("F4", CultureInfo.InvariantCulture) : "");
        });

    private static string Rate(double lnRate) => Math.Exp(lnRate).ToString("F6", CultureInfo.InvariantCulture);

    private static void Save<T>(string path, IEnumerable<T> records, Action<T, SepWriter.Row> fill)
    {
        using SepWriter writer = Sep.New(',').Writer(options => options with { Escape = true }).ToText();
        foreach (T record in records)
        {
            using SepWriter.Row row = writer.NewRow();
            fill(record, row);
        }

        File.WriteAllText(path, writer.ToString().ReplaceLineEndings("\n"), new UTF8Encoding(false));
    }

    private static readonly string Readme = string.Create(CultureInfo.InvariantCulture, $"""
        # What is true of the invented islands

        Nothing here is real: not the islands, not the countries XA (Vessany) and XB (Torrel), not the groups, the litters
        or their lots. The folder exists so that a run of the pipeline can be held against the truth.

        - `decay-rate.tif`: the true decay rate k (per day) on the fine lattice, without the effects of single sites.
        - `sites.csv`: for each group's site the k that the response expects there, the k with the site's own effect, and the
          site's S. They are the site's truth before any position was spoiled.
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
        Sites with k outside 0.003 to 0.021 per day were not chosen, and burials whose weighings would have come near a limit of the method were drawn again: both make the
        spread of the effects a little narrower than the table says.

        ## The weighings

        ```
        a_f = H_f (1 - S)        w_f = 1 - a_f
        a_s = H_s (1 - S)        w_s = 1 - a_s (1 - exp(-k t))
        ```

        In a series of retrievals the fast litter is seen before its plateau:
        w_f = 1 - a_f (1 - exp(-{DecayResponse.FastOverSlowRate} k t)).
        Warmed plots are {DecayResponse.WarmingKelvin} K warmer than their controls, which acts through the warmth term alone.

        w remaining over initial litter mass, t exposure in days, H hydrolysable fraction (the lot sheet's value is the true
        one). Where ash was measured, w is that of the ash-free mass and soil sticking to the litter adds to the ash. Gross
        masses carry the tare of the single bag, which scatters about that of the lot. Readings scatter by a quarter of the
        balance's step and are rounded to it.

        """).ReplaceLineEndings("\n");
}

/// <summary>What is true of one group's site.</summary>
internal sealed record SiteTruth(string ContributorId, string SiteId, double ExpectedLnRate, double TrueLnRate, double TrueStabilisation)
{
    public static SiteTruth Of(Contributor contributor, SiteDraft site) =>
        new(contributor.Id, site.SiteId, site.ExpectedLnRate, site.TrueLnRate, site.TrueStabilisation);
}
