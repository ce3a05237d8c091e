using DecayAtlas.Atlas.Releases;

namespace DecayAtlas.Pages.Reading;

/// <summary>Reads the tables of a release for the pages.</summary>
public static class ReleaseTablesReader
{
    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static ReleaseData Read(ReleaseReader release)
    {
        var kept = new Dictionary<string, string>(StringComparer.Ordinal);
        PooledColumns Table(string name) => new(release, name, kept);
        return new ReleaseData(
            release.ReleaseId,
            SitesOf(Table("sites")),
            BurialsOf(Table("burials"), SlowLotsOf(Table("lots"), Table("bags"))),
            BagsOf(Table("bags")),
            CovariatesOf(Table("covariates")),
            ContributionsOf(Table("contributions")),
            FlagsOf(Table("flags")));
    }

    private static IEnumerable<SiteFacts> SitesOf(PooledColumns t)
    {
        string?[] key = t.Text("site_key"), contributor = t.Text("contributor_id"), contribution = t.Text("contribution_id"), country = t.Text("country_code");
        string?[] ecosystem = t.Text("ecosystem"), landUse = t.Text("land_use"), management = t.Text("management"), note = t.Text("management_note");
        string?[] use = t.Text("use"), because = t.Text("use_because");
        double?[] latitude = t.Number("decimal_latitude"), longitude = t.Number("decimal_longitude"), uncertainty = t.Number("coordinate_uncertainty_m"), elevation = t.Number("elevation_m");
        bool?[] generalised = t.YesNo("coordinates_generalised");
        for (int i = 0; i < key.Length; i++)
        {
            yield return new SiteFacts(key[i]!, contributor[i]!, contribution[i]!, latitude[i], longitude[i], uncertainty[i], generalised[i] == true,
                country[i], ecosystem[i], landUse[i], management[i], note[i], elevation[i], use[i]!, because[i]);
        }
    }

    private static Dictionary<(string, string), double?> SlowLotsOf(PooledColumns lots, PooledColumns bags)
    {
        string?[] contribution = lots.Text("contribution_id"), lot = lots.Text("lot_id");
        double?[] hydrolysable = lots.Number("hydrolysable_fraction");
        var byLot = Enumerable.Range(0, lot.Length).ToDictionary(i => (contribution[i]!, lot[i]!), i => hydrolysable[i]);
        string?[] bagContribution = bags.Text("contribution_id"), bag = bags.Text("bag_id"), bagLot = bags.Text("lot_id");
        return Enumerable.Range(0, bag.Length).ToDictionary(i => (bagContribution[i]!, bag[i]!), i => byLot.GetValueOrDefault((bagContribution[i]!, bagLot[i]!)));
    }

    private static IEnumerable<BurialFacts> BurialsOf(PooledColumns t, Dictionary<(string, string), double?> hydrolysableOfBag)
    {
        string?[] contribution = t.Text("contribution_id"), id = t.Text("burial_id"), site = t.Text("site_key"), campaign = t.Text("campaign"), plot = t.Text("plot");
        string?[] treatment = t.Text("treatment"), fast = t.Text("fast_bag_id"), slow = t.Text("slow_bag_id"), sMissing = t.Text("s_missing_because");
        string?[] kMissing = t.Text("k_missing_because"), use = t.Text("use"), because = t.Text("use_because");
        DateOnly?[] buried = t.Date("buried_on"), retrieved = t.Date("retrieved_on");
        int?[] days = t.WholeNumber("exposure_days");
        double?[] depth = t.Number("depth_cm"), wFast = t.Number("fast_remaining_fraction"), wSlow = t.Number("slow_remaining_fraction");
        double?[] s = t.Number("s"), su = t.Number("s_u"), k = t.Number("k_per_day"), ku = t.Number("k_u_per_day");
        for (int i = 0; i < id.Length; i++)
        {
            double? hydrolysable = slow[i] is { } bag ? hydrolysableOfBag.GetValueOrDefault((contribution[i]!, bag)) : null;
            yield return new BurialFacts(contribution[i]!, id[i]!, site[i]!, campaign[i]!, plot[i], treatment[i], fast[i], slow[i], buried[i], retrieved[i], days[i],
                depth[i], wFast[i], wSlow[i], s[i], su[i], sMissing[i], k[i], ku[i], kMissing[i], hydrolysable, use[i]!, because[i]);
        }
    }

    private static IEnumerable<BagFacts> BagsOf(PooledColumns t)
    {
        string?[] contribution = t.Text("contribution_id"), id = t.Text("bag_id"), burial = t.Text("burial_id"), site = t.Text("site_key"), lot = t.Text("lot_id");
        string?[] role = t.Text("role"), basis = t.Text("mass_basis"), condition = t.Text("condition"), missing = t.Text("remaining_missing_because");
        string?[] use = t.Text("use"), because = t.Text("use_because");
        double?[] initial = t.Number("mass_initial_g"), final = t.Number("mass_final_g"), remaining = t.Number("remaining_fraction");
        for (int i = 0; i < id.Length; i++)
            yield return new BagFacts(contribution[i]!, id[i]!, burial[i], site[i]!, lot[i]!, role[i]!, initial[i], final[i], basis[i], condition[i], remaining[i], missing[i], use[i]!, because[i]);
    }

    private static IEnumerable<CovariateFacts> CovariatesOf(PooledColumns t)
    {
        string?[] site = t.Text("site_key"), name = t.Text("covariate"), unit = t.Text("unit"), rule = t.Text("rule"), status = t.Text("status"), print = t.Text("grid_fingerprint");
        double?[] value = t.Number("value");
        for (int i = 0; i < site.Length; i++)
            yield return new CovariateFacts(site[i]!, name[i]!, value[i], unit[i], rule[i], status[i], print[i]);
    }

    private static IEnumerable<ContributionFacts> ContributionsOf(PooledColumns t)
    {
        string?[] id = t.Text("contribution_id"), contributor = t.Text("contributor_id"), campaign = t.Text("campaign"), protocol = t.Text("protocol");
        string?[] licence = t.Text("licence"), hash = t.Text("content_hash");
        int?[] revision = t.WholeNumber("revision"), sites = t.WholeNumber("sites"), bags = t.WholeNumber("bags"), burials = t.WholeNumber("burials");
        DateOnly?[] created = t.Date("created");
        for (int i = 0; i < id.Length; i++)
            yield return new ContributionFacts(id[i]!, revision[i] ?? 1, contributor[i]!, campaign[i]!, protocol[i], created[i], licence[i], hash[i]!, sites[i] ?? 0, bags[i] ?? 0, burials[i] ?? 0);
    }

    private static IEnumerable<FlagFacts> FlagsOf(PooledColumns t)
    {
        string?[] contribution = t.Text("contribution_id"), kind = t.Text("record_kind"), record = t.Text("record_id"), code = t.Text("code"), severity = t.Text("severity");
        string?[] unit = t.Text("unit"), explanation = t.Text("explanation"), by = t.Text("overruled_by"), because = t.Text("overruled_because");
        double?[] measured = t.Number("measured"), limit = t.Number("limit");
        for (int i = 0; i < code.Length; i++)
            yield return new FlagFacts(contribution[i]!, kind[i]!, record[i]!, code[i]!, severity[i]!, measured[i], limit[i], unit[i], explanation[i]!, by[i], because[i], null);
    }
}
