using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using MathNet.Numerics.Distributions;

namespace DecayAtlas.EndToEnd;

/// <summary>Group questions asked of a small release, answered beside tests of the textbooks on the released numbers.</summary>
public sealed class GroupsCompared(DemoRun demo) : IDisposable
{
    private readonly Workspace _work = new();

    public void Dispose() => _work.Dispose();

    private sealed record BagPair(string Site, string Treatment, double SlowFinalGrams);

    /// <summary>A contribution on the lots of the schema's example; sites are named after their management, "organic-1".</summary>
    private void GivenRelease(IReadOnlyList<BagPair> burials)
    {
        string folder = _work.PathOf("inbox/c1");
        Directory.CreateDirectory(folder);
        JsonNode descriptor = JsonNode.Parse(File.ReadAllText(Project.PathOf("schemas/v1/example/datapackage.json")))!;
        descriptor["resources"]!.AsArray().RemoveAt(3);
        File.WriteAllText(Path.Combine(folder, "datapackage.json"), descriptor.ToJsonString());
        File.Copy(Project.PathOf("schemas/v1/example/lots.csv"), Path.Combine(folder, "lots.csv"));
        File.WriteAllLines(Path.Combine(folder, "sites.csv"),
        [
            "site_id,decimal_latitude,decimal_longitude,coordinate_uncertainty_m,ecosystem,management",
            .. burials.Select(b => b.Site).Distinct()
                .Select((site, i) =>
                    string.Create(CultureInfo.InvariantCulture, $"{site},{47 + (0.1 * i)},-11,15,grassland,{site.Split('-')[0]}")),
        ]);
        File.WriteAllLines(Path.Combine(folder, "bags.csv"),
        [
            "bag_id,burial_id,site_id,replicate,lot_id,role,treatment,mass_initial_g,mass_final_g,mass_basis,drying_initial,drying,buried_on,retrieved_on,depth_cm,unused_material,balance_resolution_g",
            .. burials.SelectMany((b, i) =>
                new[] { ("F", "F-07", "fast", 4.1, 1.92 + (0.002 * i)), ("S", "S-03", "slow", 4.5, 2 * b.SlowFinalGrams) }
                .Select(bag =>
                    string.Create(
                        CultureInfo.InvariantCulture, $"{i}{bag.Item1},{i},{b.Site},{i},{bag.Item2},{bag.Item3},{b.Treatment},"
                        + $"{bag.Item4},{bag.Item5:0.000},gross,oven,oven,2024-05-14,2024-08-12,8,yes,0.001"))),
        ]);
        File.WriteAllText(_work.PathOf("p.yaml"), "version: 1\natlas: atlas\ninbox: inbox\n");
        (int code, string text) = Run("run");
        Assert.True(code == 0, text);
    }

    private (int Code, string Text) Run(params string[] args)
    {
        (StringWriter? output, StringWriter? error) = (new StringWriter(), new StringWriter());
        int code = CommandLine.Run([args[0], _work.PathOf("p.yaml"), .. args[1..]], output, error);
        return (code, output.ToString() + error);
    }

    private JsonElement Compare(params string[] more) => JsonDocument.Parse(Run(["compare", .. more, "--json"]).Text).RootElement;

    /// <summary>Mean ln k by group and site as DuckDB finds it in the released tables.</summary>
    private ILookup<string, double> SiteMeans(string group) => _work.Query($"""
        SELECT s.{group} AS g, b.site_key, avg(ln(b.k_per_day)) FROM read_parquet('atlas/current/burials/**/*.parquet') b
        JOIN read_parquet('atlas/current/sites/**/*.parquet') s USING (site_key)
        WHERE b.use = 'accepted' GROUP BY ALL ORDER BY ALL
        """).ToLookup(r => (string)r[0]!, r => (double)r[2]!);

    /// <param name="step">From burial to burial of a site (g).</param>
    private static BagPair[] FourSitesEach(double organicLossMore, double step = 0.004) =>
    [
        .. new[] { "conventional",
            "organic" }.SelectMany((management, m) => Enumerable.Range(0, 4).SelectMany(site => Enumerable.Range(0, 3).Select(burial =>
            new BagPair($"{management}-{site}",
                "", 1.720 - (m * organicLossMore) - (0.013 * ((site * 3) + m) % 0.031) + (step * burial))))),
    ];

    [Fact]
    public void With_as_many_burials_at_every_site_it_is_the_t_test_of_the_site_means_and_what_the_lots_stretch()
    {
        GivenRelease(FourSitesEach(0.05));
        ILookup<string, double> means = SiteMeans("management");
        double[] conventional = [.. means["conventional"]], organic = [.. means["organic"]];
        Assert.Equal((4, 4), (conventional.Length, organic.Length));

        // Student's t test of two samples of four: t(0.975, 6) = 2.447 (NIST/SEMATECH e-Handbook 1.3.6.7.2)
        double difference = organic.Average() - conventional.Average();
        double pooled = (SquaresOf(conventional) + SquaresOf(organic)) / 6;
        // what lots and the batch move one group by and not the other, each quantity by itself (JCGM 100:2008, equation 16)
        double stretched = (double)_work.Query("""
            SELECT sum(d * d) FROM (SELECT avg(on_ln_k) FILTER (management = 'organic') - avg(on_ln_k) FILTER (management = 'conventional') AS d
            FROM read_parquet('atlas/current/shared_errors/*.parquet') JOIN read_parquet('atlas/current/sites/**/*.parquet') s USING (site_key)
            GROUP BY shared_by, shared_id, quantity)
            """)[0][0]!;
        double scatter = pooled * 2 / 4, error = Math.Sqrt(scatter + stretched);
        JsonElement pair = Compare("--by", "management").GetProperty("comparison").GetProperty("pairs")[0];
        Assert.Equal(("conventional", "organic"), (pair.GetProperty("first").GetString(), pair.GetProperty("second").GetString()));
        // Welch and Satterthwaite, with a part that is known (JCGM 100:2008, equation G.2b); what the bags are known to err by differs a
        // little from site to site, and with it the weights and degrees of freedom
        double degrees = 6 * Math.Pow((scatter + stretched) / scatter, 2);
        Assert.Equal(1, pair.GetProperty("degrees_of_freedom").GetDouble() / degrees, 0.02);
        double half = StudentT.InvCDF(0, 1, degrees, 0.975) * error;
        Assert.Equal(Math.Exp(difference), pair.GetProperty("contrast").GetDouble(), 1e-3);
        Assert.Equal(Math.Exp(difference - half), pair.GetProperty("lower95").GetDouble(), 2e-3);
        Assert.Equal(Math.Exp(difference + half), pair.GetProperty("upper95").GetDouble(), 2e-3);

        string text = Run("compare", "--by", "management", "--variance").Text;
        Assert.Contains("k of organic is ", text, StringComparison.Ordinal);
        Assert.Contains("a difference shows that groups differ, not why", text, StringComparison.Ordinal);
        Assert.Contains("Intraclass correlation of the burials of one site", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_shares_of_site_and_burial_are_those_of_the_analysis_of_variance()
    {
        // burials must scatter by more than their bags are known to err, which shares leave out
        GivenRelease(FourSitesEach(0.05, step: 0.02));
        List<object?[]> rows = _work.Query("SELECT site_key, ln(k_per_day) FROM read_parquet('atlas/current/burials/**/*.parquet')");
        double[][] sites = [.. rows.GroupBy(r => (string)r[0]!, r => (double)r[1]!).Select(g => g.ToArray())];
        // balanced: REML is the analysis of variance where no estimate is negative (Searle, Casella and McCulloch 1992, 4.6)
        double within = sites.Sum(SquaresOf) / 16, between = (SquaresOf([.. sites.Select(s => s.Average())]) / 7) - (within / 3);
        double known = (double)_work.Query("SELECT avg(ln_k_u_bag ** 2) FROM read_parquet('atlas/current/plots/**/*.parquet')")[0][0]!;
        Assert.InRange(known, 0.01 * within, within);
        JsonElement variance = Compare("--by", "management").GetProperty("variance");
        // not the same: sites err by different amounts and weigh by it
        Assert.Equal(between / (between + within - known), variance.GetProperty("site_correlation").GetDouble(), 0.01);
        // all sites are grassland: no share of ecosystems, and a sentence that says so
        Assert.Contains("one ecosystem", variance.GetProperty("statement").GetString(), StringComparison.Ordinal);
        Assert.Equal(0, variance.GetProperty("shares").GetArrayLength());
    }

    [Fact]
    public void Treatments_are_compared_within_sites_as_pairs_are()
    {
        double[] control = [1.720, 1.700, 1.735, 1.690], warmed = [1.690, 1.685, 1.690, 1.665];
        GivenRelease(
        [
            .. control.Select((mass, i) => new BagPair($"none-{i}", i == 0 ? "" : "control", mass)),
            .. warmed.Select((mass, i) => new BagPair($"none-{i}", "warmed", mass)),
            new BagPair("none-9", "", 1.650),
        ]);
        double[] differences = [.. _work.Query("""
            SELECT sum(CASE WHEN treatment = 'warmed' THEN ln(k_per_day) ELSE -ln(k_per_day) END) FROM read_parquet('atlas/current/burials/**/*.parquet')
            GROUP BY site_key HAVING count(*) = 2
            """).Select(r => (double)r[0]!)];
        Assert.Equal(4, differences.Length);
        // Student's paired t test: t(0.975, 3) = 3.182 (NIST/SEMATECH e-Handbook 1.3.6.7.2)
        double half = 3.182446 * Math.Sqrt(SquaresOf(differences) / 3 / 4);

        JsonElement comparison = Compare("--by", "treatment").GetProperty("comparison");
        JsonElement pair = comparison.GetProperty("pairs")[0];
        Assert.Equal(("untreated", "warmed"), (pair.GetProperty("first").GetString(), pair.GetProperty("second").GetString()));
        Assert.Equal(Math.Exp(differences.Average()), pair.GetProperty("contrast").GetDouble(), 0.01);
        Assert.Equal(Math.Exp(differences.Average() - half), pair.GetProperty("lower95").GetDouble(), 0.02);
        Assert.Contains("1 burial of sites without a treated plot", comparison.GetProperty("left_out")[0].GetString(),
            StringComparison.Ordinal);
        // and no other question counts a treated plot
        Assert.Equal(5, Compare("--by", "management").GetProperty("comparison").GetProperty("burials").GetInt32());
    }

    [Fact]
    public void What_can_not_be_answered_is_a_sentence()
    {
        GivenRelease([.. FourSitesEach(0.05).Where(b => b.Site is "organic-0" or "conventional-0")]);
        (int code, string text) = Run("compare", "--by", "management");
        Assert.Equal(0, code);
        Assert.Contains("No comparison: Group conventional has one site only", text, StringComparison.Ordinal);
        Assert.Contains("No comparison: All burials belong to one group", Run("compare", "--by", "ecosystem").Text,
            StringComparison.Ordinal);
        Assert.Contains("No comparison: No accepted burial with k above 0 lay in a treated plot", Run("compare", "--by", "treatment").Text,
            StringComparison.Ordinal);
        Assert.Contains("6 burials of 2 sites whose land_use is not stated", Run("compare", "--by", "land_use").Text,
            StringComparison.Ordinal);

        (code, text) = Run("compare", "--by", "management", "--with", "soil_ph");
        Assert.Equal(2, code);
        Assert.Contains("soil_ph is no covariate of the release; it has no covariates", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Adjusting_for_temperature_says_its_slope_and_brings_the_groups_of_the_demo_together()
    {
        JsonElement Ask(params string[] with) => JsonDocument.Parse(demo.Workspace.DecayAtlasHere(
            ["compare", "pipeline/demo.yaml", "--by", "land_use", "--json", .. with]).Output).RootElement.GetProperty("comparison");
        JsonElement adjusted = Ask("--with", "air_temperature_mean,soil_ph"), plain = Ask();
        JsonElement slope = adjusted.GetProperty("covariates")[0];
        Assert.Equal("air_temperature_mean", slope.GetProperty("name").GetString());
        // the invented response rises with temperature
        Assert.True(slope.GetProperty("lower95").GetDouble() > 0);
        Assert.True(TellApart(adjusted) < TellApart(plain));

        static int TellApart(JsonElement comparison) =>
            comparison.GetProperty("pairs").EnumerateArray().Count(p => p.GetProperty("holm_p_value").GetDouble() < 0.05);
    }

    private static double SquaresOf(double[] x) => x.Sum(v => (v - x.Average()) * (v - x.Average()));
}
