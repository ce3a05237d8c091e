using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace DecayAtlas.EndToEnd;

/// <summary>The answers of the demo's release, held against what is true of the invented islands.</summary>
public sealed partial class AnswersAgainstTruth(DemoRun demo)
{
    private const string Release = "atlas/current";

    // what several tests ask in the same words is answered once
    private static readonly Dictionary<string, JsonElement> Answered = [];

    private JsonElement Json(params string[] args)
    {
        string asked = string.Join(' ', args);
        if (Answered.TryGetValue(asked, out JsonElement answer))
            return answer;
        CommandResult result = demo.Workspace.DecayAtlasHere([.. args, "--json"]);
        Assert.True(result.ExitCode == 0, result.Output + result.Error);
        return Answered[asked] = JsonDocument.Parse(result.Output).RootElement;
    }

    [Fact]
    public void Warmed_plots_say_by_how_much_warming_speeds_decay()
    {
        // the true ratio of each site is that of Lloyd and Taylor 1994 between its temperature and 3 K more; their geometric mean is what
        // pairs estimate
        double truth =
            Math.Exp(
                (double)demo.Workspace
                    .Query("SELECT avg(ln(ratio_warmed)) FROM read_csv('scenario/truth/experiments.csv') WHERE experiment = 'warming'")[0][0]!);
        JsonElement warmed = Json("warmth", "pipeline/demo.yaml", "--by-kelvin", "3").GetProperty("warmth").GetProperty("warmed");
        Assert.InRange(truth, Get(warmed, "rate_ratio", "lower95"), Get(warmed, "rate_ratio", "upper95"));
        Assert.InRange(Math.Pow(truth, 10.0 / 3), Get(warmed, "q10", "lower95"), Get(warmed, "q10", "upper95"));
        // and so does the comparison of treatments in the release
        object?[] row =
            Assert.Single(
                demo.Workspace
                    .Query($"SELECT ratio_lower95, ratio_upper95, first, second FROM read_parquet('{Release}/comparisons/*.parquet') "
                    + "WHERE compared_by = 'treatment' AND records = 'all' AND \"of\" = 'k'"));
        Assert.Equal(("untreated", "warmed"), ((string)row[2]!, (string)row[3]!));
        Assert.InRange(truth, (double)row[0]!, (double)row[1]!);
    }

    [Fact]
    public void Over_sites_the_response_of_Lloyd_and_Taylor_comes_back()
    {
        JsonElement[] responses = [.. Json("warmth", "pipeline/demo.yaml", "--moisture", "soil_moisture").GetProperty("warmth")
            .GetProperty("responses").EnumerateArray()];
        Assert.Equal(9, responses.Length);
        // the invented islands are Lloyd and Taylor's with an optimum of moisture; from 0 to 15 degC the three forms are all but one curve,
        // so that AICc tells the optimum, and the form hardly
        Assert.All(responses[..3], r => Assert.Equal("quadratic", r.GetProperty("moisture").GetString()));
        JsonElement own = responses[..3].Single(r => r.GetProperty("form").GetString() == "lloyd-taylor");
        Assert.InRange(Number(own, "aicc") - Number(responses[0], "aicc"), 0, 3);
        // the mixed model counts what campaigns and batches do as scatter too, so that a form stands out less than over plain means
        Assert.True(Number(responses[3], "aicc") - Number(own, "aicc") > 50);
        // E0 is 308.56 there, at equal pH and clay too
        JsonElement adjusted = Json([.. Warmth("k"), "--moisture", "soil_moisture"]).GetProperty("warmth")
            .GetProperty("responses").EnumerateArray().First(r =>
                r.GetProperty("form").GetString() == "lloyd-taylor" && r.GetProperty("moisture").GetString() == "quadratic");
        foreach (JsonElement found in new[] { adjusted, adjusted.GetProperty("plateau_corrected") })
        {
            JsonElement e0 = found.GetProperty("sensitivity");
            Assert.InRange(308.56, Number(e0, "lower95"), Number(e0, "upper95"));
        }

        static double Number(JsonElement of, string name) => of.GetProperty(name).GetDouble();
    }

    [Fact]
    public void The_rise_from_10_to_20_degrees_lies_in_the_released_interval_that_holds_the_choice_of_the_form()
    {
        object?[] row = Assert.Single(demo.Workspace.Query(
            $"SELECT over_forms, over_forms_lower95, over_forms_upper95 FROM read_parquet('{Release}/warmth/*.parquet') "
            + "WHERE records = 'all' AND \"of\" = 'k' AND rank = 1"));
        // Lloyd and Taylor 1994 with E0 308.56 K
        Assert.InRange(Math.Exp(308.56 * (1 / 56.02 - 1 / 66.02)), (double)row[1]!, (double)row[2]!);
        Assert.InRange((double)row[0]!, (double)row[1]!, (double)row[2]!);
    }

    [Fact]
    public void S_moves_with_warmth_as_on_the_islands_once_the_plateau_of_the_fast_litter_is_taken_into_account()
    {
        JsonElement answer = Json([.. Warmth("s"), "--moisture", "soil_moisture"]);
        JsonElement line = answer.GetProperty("warmth").GetProperty("responses")[0];
        JsonElement corrected = line.GetProperty("plateau_corrected").GetProperty("per_ten_kelvin");
        // S falls by 0.011 for each degree there; cold ground shows too much of it, since its fast litter was dug up too early
        Assert.InRange(-0.11, corrected.GetProperty("lower95").GetDouble(), corrected.GetProperty("upper95").GetDouble());
        Assert.True(Get(line, "per_ten_kelvin", "value") < corrected.GetProperty("value").GetDouble());
    }

    [Theory]
    [InlineData("all")]
    [InlineData("without-noted")]
    public void Ratios_of_groups_hold_those_of_the_true_k_of_their_sites(string records)
    {
        List<object?[]> pairs = demo.Workspace.Query($"""
            WITH truth AS (
                SELECT s.*, ln(t.k_site_per_day) AS ln_k FROM read_parquet('{Release}/sites/**/*.parquet') s
                JOIN read_csv('scenario/truth/sites.csv') t ON s.site_key = t.contributor || '/' || t.site_id
                WHERE s.site_key IN (SELECT site_key FROM read_parquet('{Release}/plots/**/*.parquet')
                    WHERE treatment IS NULL AND ln_k_burials > 0 AND evidence <> 'reported')),
            means AS (
                SELECT 'ecosystem' AS compared_by, ecosystem AS name, avg(ln_k) AS ln_k FROM truth GROUP BY ALL
                UNION ALL SELECT 'land_use', land_use, avg(ln_k) FROM truth GROUP BY ALL
                UNION ALL SELECT 'management', management, avg(ln_k) FROM truth GROUP BY ALL)
            SELECT exp(b.ln_k - a.ln_k) BETWEEN c.ratio_lower95 AND c.ratio_upper95, c.compared_by
            FROM read_parquet('{Release}/comparisons/*.parquet') c
            JOIN means a ON a.compared_by = c.compared_by AND a.name = c.first
            JOIN means b ON b.compared_by = c.compared_by AND b.name = c.second
            WHERE c.records = '{records}' AND c."of" = 'k' AND c.ratio_lower95 IS NOT NULL
            """);
        Assert.True(pairs.Count >= 20, $"{pairs.Count} pairs");
        Assert.Contains(pairs, p => (string)p[1]! == "management");
        // the sites are those compared, so that what sites scatter by is in the interval and hardly in its error
        Assert.True(pairs.Count(p => p[0] is true) >= 0.95 * pairs.Count, $"{pairs.Count(p => p[0] is true)} of {pairs.Count} hold");
    }

    [Theory]
    [InlineData("k", "soil_moisture")]
    [InlineData("k", null)]
    [InlineData("s", "soil_moisture")]
    [InlineData("s", null)]
    public void Warmth_is_one_number_in_text_JSON_table_and_pages(string of, string? moisture)
    {
        string[] asked = [.. Warmth(of), .. moisture is null ? [] : (string[])["--moisture", moisture]];
        JsonElement answer = Json(asked), first = answer.GetProperty("warmth").GetProperty("responses")[0];
        // with moisture the best of all, without it the best that leaves moisture out
        object?[] row = demo.Workspace.Query($"""
            SELECT form, coalesce(ratio, difference), coalesce(ratio_lower95, difference_lower95),
                coalesce(ratio_upper95, difference_upper95), sites, coalesce(moisture, '') FROM read_parquet('{Release}/warmth/*.parquet')
            WHERE records = 'all' AND "of" = '{of}' AND {(moisture is null ? "moisture_term = 'none'" : "rank = 1")} ORDER BY rank
            """)[0];
        Assert.Equal(first.GetProperty("form").GetString(), (string)row[0]!);
        Assert.Equal(moisture ?? "", (string)row[5]!);
        JsonElement ten = first.GetProperty("per_ten_kelvin");
        double value = ten.GetProperty("value").GetDouble();
        Assert.Equal(1, (double)row[1]! / value, 1e-9);
        Assert.Equal(1, (double)row[2]! / ten.GetProperty("lower95").GetDouble(), 1e-9);
        Assert.Equal(1, (double)row[3]! / ten.GetProperty("upper95").GetDouble(), 1e-9);
        Assert.Equal(answer.GetProperty("warmth").GetProperty("sites").GetInt32(), Convert.ToInt32(row[4], CultureInfo.InvariantCulture));

        string page = File.ReadAllText(demo.Workspace.PathOf($"{Release}/pages/answers.html"));
        string sign = value < 0 ? "−" : "";
        string told = Math.Abs(value).ToString(of == "k" ? "0.00" : "0.000", CultureInfo.InvariantCulture);
        // what writes it in words does not mind whether moisture counts
        if (moisture is not null)
            Assert.Contains(told, demo.Workspace.DecayAtlasHere(asked).Output, StringComparison.Ordinal);
        Assert.Contains(moisture is null ? $"With moisture not counted, it is {sign}{told} ("
            : of == "k" ? $"At 20 °C <i>k</i> is {told} times" : $"<i>S</i> changes by {sign}{told} (", page, StringComparison.Ordinal);
        if (of == "k" && moisture is not null)
        {
            // between temperatures that sites have; by the form as it is published
            Match sheet = ClassFactor().Match(File.ReadAllText(demo.Workspace.PathOf($"{Release}/pages/class/index.html")));
            (double warmer, double colder) = (Number(sheet.Groups[2]), Number(sheet.Groups[3]));
            double sensitivity = first.GetProperty("sensitivity").GetProperty("value").GetDouble();
            double expected = (string)row[0]! switch
            {
                // Lloyd and Taylor 1994, Functional Ecology 8:315-323: T0 is 227.13 K (from memory)
                "lloyd-taylor" => Math.Exp(sensitivity * (1 / (colder + 46.02) - 1 / (warmer + 46.02))),
                // E in kJ/mol; R is 8.314462618 J/(mol K) (CODATA 2018)
                "arrhenius" => Math.Exp(1000 * sensitivity / 8.314462618 * (1 / (colder + 273.15) - 1 / (warmer + 273.15))),
                _ => Math.Pow(sensitivity, (warmer - colder) / 10),
            };
            Assert.Equal(expected, Number(sheet.Groups[1]), 0.05);
        }
    }

    private static double Number(Group group) => double.Parse(group.Value, CultureInfo.InvariantCulture);

    [GeneratedRegex("breaks down ([0-9.]+) times as fast at ([0-9]+) °C as at ([0-9]+) °C, if both places are equally")]
    private static partial Regex ClassFactor();

    [Theory]
    [InlineData("k", "ratio")]
    [InlineData("s", "difference")]
    public void Change_over_campaigns_is_one_number_in_JSON_and_table(string of, string column)
    {
        JsonElement trend = Json("trend", "pipeline/demo.yaml", "--of", of).GetProperty("trend"), slope = trend.GetProperty("slopes")[0];
        object?[] row = Assert.Single(demo.Workspace.Query(
            $"SELECT {column}, {column}_lower95, degrees_of_freedom, campaigns FROM read_parquet('{Release}/trend/*.parquet') "
            + $"WHERE records = 'all' AND \"of\" = '{of}'"));
        Assert.Equal(Get(slope, "per_year", "value"), (double)row[0]!, 1e-9);
        Assert.Equal(Get(slope, "per_year", "lower95"), (double)row[1]!, 1e-9);
        Assert.Equal(slope.GetProperty("degrees_of_freedom").GetDouble(), (double)row[2]!, 1e-9);
        Assert.Equal(3, Convert.ToInt32(row[3], CultureInfo.InvariantCulture));
        // nothing changes on the islands from year to year
        Assert.InRange(of == "k" ? 1 : 0, Get(slope, "per_year", "lower95"), Get(slope, "per_year", "upper95"));
    }

    [Theory]
    [InlineData("k_geometric_mean_lower95_per_day", "k_geometric_mean_upper95_per_day", "k_site_per_day")]
    [InlineData("s_lower95", "s_upper95", "s_site")]
    public void Intervals_of_sites_hold_the_truth_of_k_and_of_S(string lower, string upper, string truth)
    {
        // weighed, summarised and reported; they hold a little more than 95 %, since the demo's sheets are less wrong than they say
        List<object?[]> rows = demo.Workspace.Query($"""
            SELECT c.evidence, count(*), avg((t.{truth} BETWEEN c.{lower} AND c.{upper})::INT) FROM read_parquet('{Release}/site_campaigns/**/*.parquet') c
            JOIN read_csv('scenario/truth/sites.csv') t ON c.site_key = t.contributor || '/' || t.site_id
            WHERE c.treatment IS NULL AND c.{lower} IS NOT NULL GROUP BY 1
            """);
        Assert.Equal(3, rows.Count);
        // of 16 sites one or two may miss
        Assert.All(rows, r => Assert.InRange((double)r[2]!, Convert.ToInt64(r[1], CultureInfo.InvariantCulture) > 100 ? 0.93 : 0.85, 1));
    }

    [Fact]
    public void Curves_find_the_rates_of_both_litters_and_their_S()
    {
        // 95 % intervals of single sites: of all of them together, most hold the truth
        List<object?[]> rows = demo.Workspace.Query($"""
            SELECT t.k_site_per_day BETWEEN c.k_lower95_per_day AND c.k_upper95_per_day, t.k_fast_per_day BETWEEN c.k_fast_lower95_per_day AND c.k_fast_upper95_per_day,
                   t.s_site BETWEEN c.s_lower95 AND c.s_upper95, c.k_per_day / t.k_site_per_day
            FROM read_parquet('{Release}/curves/*.parquet') c
            JOIN read_csv('scenario/truth/experiments.csv') t ON c.site_key = t.contributor || '/' || t.site_id
            WHERE c.model = 'one-s' AND c.status = 'fitted'
            """);
        Assert.True(rows.Count >= 4, $"{rows.Count} series");
        int held = rows.SelectMany(r => r.Take(3)).Count(x => x is true);
        Assert.True(held >= 0.75 * 3 * rows.Count, $"{held} of {3 * rows.Count} intervals hold the truth");
        Assert.InRange(Math.Exp(rows.Average(r => Math.Log((double)r[3]!))), 0.9, 1.1);
        // the fast litter has a plateau, and the curve with one is preferred over the one without
        Assert.Empty(
            demo.Workspace
                .Query($"SELECT site_key FROM read_parquet('{Release}/curves/*.parquet') WHERE litter = 'fast' AND model = "
                + "'single-exponential' AND weight > 0.5"));
    }

    [Fact]
    public void The_two_bag_k_is_held_against_the_curves_and_its_correction_offered()
    {
        object?[] row =
            Assert.Single(
                demo.Workspace
                    .Query($"SELECT series, ln(ratio), ln(correction_factor), sentence, (SELECT count(*) FROM read_parquet('{Release}/curves/*.parquet') WHERE litter = 'slow' AND model = 'asymptotic' AND apart_k_upper95_per_day <= 4 * apart_k_lower95_per_day AND apart_two_bag_k_per_day > 0), (SELECT avg(ln(apart_two_bag_k_per_day / apart_k_per_day)) FROM read_parquet('{Release}/curves/*.parquet') WHERE litter = 'slow' AND model = 'asymptotic' AND apart_k_upper95_per_day <= 4 * apart_k_lower95_per_day AND apart_two_bag_k_per_day > 0) FROM read_parquet('{Release}/agreement/*.parquet') WHERE records = 'all'"));
        Assert.Equal(Convert.ToInt64(row[0], CultureInfo.InvariantCulture), Convert.ToInt64(row[4], CultureInfo.InvariantCulture));
        Assert.Equal((double)row[5]!, (double)row[1]!, 1e-12);
        Assert.Equal(-(double)row[1]!, (double)row[2]!, 1e-12);
        Assert.Contains("the two-bag k of one retrieval is", (string)row[3]!, StringComparison.Ordinal);
        // no rate in the release is corrected by it
        Assert.Equal(0L, Convert.ToInt64(demo.Workspace.Query($"""
            SELECT count(*) FROM read_parquet('{Release}/site_campaigns/**/*.parquet') s JOIN (
                SELECT site_key, campaign, treatment, avg(k_per_day) AS k FROM read_parquet('{Release}/burials/**/*.parquet') WHERE use = 'accepted' GROUP BY ALL) b
            ON s.site_key = b.site_key AND s.campaign = b.campaign AND s.treatment IS NOT DISTINCT FROM b.treatment
            WHERE abs(s.k_mean_per_day - b.k) > 1e-12
            """)[0][0], CultureInfo.InvariantCulture));
    }

    [Fact]
    public void Pooled_over_series_the_two_litters_have_one_S_as_on_the_islands()
    {
        // both litters of a burial have one S there; the sheet of the series' slow lot says H 2 % too high, which looks like 0.01 of S
        JsonElement row = Json("calibrate", "pipeline/demo.yaml").GetProperty("calibration");
        Assert.InRange(0, row.GetProperty("difference_lower95").GetDouble(), row.GetProperty("difference_upper95").GetDouble());
        Assert.InRange(0.01, row.GetProperty("difference_lower95").GetDouble(), row.GetProperty("difference_upper95").GetDouble());
        Assert.InRange(1, row.GetProperty("rate_factor_lower95").GetDouble(), row.GetProperty("rate_factor_upper95").GetDouble());
        Assert.Contains("No difference of the two litters shows", row.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        object?[] released = Assert.Single(demo.Workspace.Query(
            $"SELECT difference, (SELECT avg(s_slow - s) FROM read_parquet('{Release}/curves/*.parquet') WHERE model = 'two-s' "
            + $"AND s_slow_lower95 IS NOT NULL AND s_slow_upper95 IS NOT NULL) FROM read_parquet('{Release}/calibration/*.parquet') "
            + "WHERE records = 'all'"));
        Assert.Equal(row.GetProperty("difference").GetDouble(), (double)released[0]!, 1e-12);
        Assert.Equal((double)released[1]!, (double)released[0]!, 1e-12);
    }

    [Fact]
    public void Variance_shares_are_those_that_the_islands_were_made_with()
    {
        Dictionary<string, double> variance =
            demo.Workspace.Query($"SELECT level, variance FROM read_parquet('{Release}/variance/*.parquet') "
                + "WHERE model = 'nested' AND records = 'all' AND \"of\" = 'k'")
            .ToDictionary(r => (string)r[0]!, r => (double)r[1]!);
        // burials scatter by sd 0.10 of ln k; what weighing adds is taken off
        Assert.InRange(Math.Sqrt(variance["burial"]), 0.09, 0.12);
        // plots and campaigns have no effect of their own there
        Assert.True(variance["plot"] < 0.1 * variance["burial"]);
        double released = (double)demo.Workspace
            .Query($"SELECT repeatability_5 FROM read_parquet('{Release}/variance/*.parquet') WHERE model = 'nested' "
                + "AND level = 'site' AND records = 'all' AND \"of\" = 'k'")[0][0]!;
        // nested sampling, Snedecor and Cochran 1980, 13.10 (from memory): a campaign at a site does not average over its burials
        double own = variance["ecosystem"] + variance["site"];
        double error = variance["campaign-at-site"] + variance["plot"] + variance["burial"] / 5;
        Assert.Equal(own / (own + error), released, 1e-12);
    }

    [Fact]
    public void A_plan_from_stated_variances_is_that_of_the_power_tables()
    {
        // Cohen 1988, table 2.4.1 (from memory): d = 0.5, two-sided 5 %, power 0.80 needs 64 in each group
        JsonElement plan =
            Json("plan", "--ratio", Math.Exp(0.5).ToString("R", CultureInfo.InvariantCulture), "--variances", "site=1",
                "--simulations", "0");
        Assert.Equal(64, plan.GetProperty("designs")[0].GetProperty("sites_per_group").GetInt32());
        CommandResult wrong = demo.Workspace.DecayAtlasHere("plan", "--ratio", "1");
        Assert.Equal(2, wrong.ExitCode);
        Assert.Contains("--ratio must name the ratio of k to be seen", wrong.Error, StringComparison.Ordinal);
        JsonElement ofS = Json("plan", "pipeline/demo.yaml", "--of", "s", "--difference", "0.03", "--simulations", "0");
        Assert.True(ofS.GetProperty("variances").GetProperty("burial").GetProperty("variance").GetDouble() > 0);
    }

    [Fact]
    public void Figures_say_what_they_show()
    {
        // that answers and pictures have the same bytes each time is seen where the demo is run twice
        JsonElement drawn = Json("figures", "pipeline/demo.yaml", "--to", "figures", "--moisture", "soil_moisture");
        string[] names = [.. drawn.GetProperty("figures").EnumerateArray().Select(f => f.GetProperty("name").GetString()!)];
        Assert.Equal(
            [
                .. Both("comparison-ecosystem", "comparison-land-use", "comparison-management", "comparison-treatment"), "curve-residuals",
                "decay-curves", .. Both("groups-ecosystem", "groups-land-use", "groups-management", "groups-treatment"),
                "rate-and-stabilisation", "replicate-scatter", .. Both("temperature-response"), "two-bag-agreement",
                .. Both("variance-shares"),
            ], names);
        Assert.All(drawn.GetProperty("figures").EnumerateArray(), f => Assert.True(f.GetProperty("alt").GetString()!.Length > 40));
        // what the records that a note casts doubt on move is said where it is drawn
        Assert.Contains(" noted burials of ", drawn.GetProperty("figures").EnumerateArray()
            .Single(f => f.GetProperty("name").GetString() == "variance-shares-k").GetProperty("note").GetString(), StringComparison.Ordinal);

        static IEnumerable<string> Both(params string[] of) => of.SelectMany(name => (string[])[$"{name}-k", $"{name}-s"]);
    }

    // pH and clay are those of answers.warmth_with
    private static string[] Warmth(string of) => ["warmth", "pipeline/demo.yaml", "--of", of, "--with", "soil_ph,clay"];

    private static double Get(JsonElement element, string estimate, string end) =>
        element.GetProperty(estimate).GetProperty(end).GetDouble();
}
