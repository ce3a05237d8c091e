using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>One command on a fresh folder, and what it leaves behind, read by readers that are not ours.</summary>
public class DemoFromIntakeToMap(DemoRun demo)
{
    private Workspace Work => demo.Workspace;

    // the demo's own: other tests let single stages run over the same atlas, and leave their records after it
    private JsonElement FirstRun() => JsonDocument.Parse(File.ReadAllText(
        Directory.GetFiles(Work.PathOf("atlas/runs"), "*.json").Order(StringComparer.Ordinal).First())).RootElement;

    [Fact]
    public void It_ends_well_and_leaves_release_model_and_map()
    {
        Assert.True(demo.First.ExitCode == 0, demo.First.Everything);
        foreach (string made in new[]
        {
            "atlas/current/datapackage.json", "atlas/current/checksums.sha256", "atlas/current/CITATION.cff", "atlas/current/sites.geojson",
            "atlas/models/current/card.md", "atlas/models/current/card.json", "atlas/models/current/limits.json",
            "atlas/models/current/held-out.csv", "atlas/models/current-stabilisation/card.md",
            "atlas/maps/current/decay-rate.tif", "atlas/maps/current/decay-rate.nc", "atlas/maps/current/decay-rate.png",
        })
        {
            Assert.True(File.Exists(Work.PathOf(made)), made);
        }
    }

    [Fact]
    public void The_scenario_is_as_large_as_promised()
    {
        Assert.True((long)Work.Query("SELECT count(*) FROM read_parquet('atlas/current/sites/**/*.parquet')")[0][0]! >= 200);
        Assert.True((long)Work.Query("SELECT count(*) FROM read_parquet('atlas/current/bags/**/*.parquet')")[0][0]! >= 2500);
        Assert.True((long)Work.Query("SELECT count(*) FROM read_parquet('atlas/current/contributions/**/*.parquet')")[0][0]! >= 30);
        Assert.True(
            (long)Work.Query("SELECT count(DISTINCT covariate) FROM read_parquet('atlas/current/covariates/**/*.parquet')")[0][0]! >= 5);
    }

    [Fact]
    public void DuckDB_counts_in_every_table_what_the_run_record_says()
    {
        JsonElement rows = FirstRun().GetProperty("release_rows");
        Assert.Equal(29, rows.EnumerateObject().Count());
        foreach (JsonProperty table in rows.EnumerateObject())
        {
            Assert.Equal(table.Value.GetInt64(),
                Work.Query($"SELECT count(*) FROM read_parquet('atlas/current/{table.Name}/**/*.parquet', hive_partitioning = "
                + "true)")[0][0]);
        }
    }

    [Fact]
    public void Partition_columns_and_uses_agree_between_tables_flags_and_record()
    {
        Assert.Equal(0L, Work.Query("""
            SELECT count(*) FROM read_parquet('atlas/current/bags/**/*.parquet', hive_partitioning = true)
            WHERE year(retrieved_on) IS DISTINCT FROM retrieved_year
            """)[0][0]);
        Dictionary<string, long> uses =
            Work.Query(
                "SELECT use, count(*) FROM read_parquet('atlas/current/burials/**/*.parquet', hive_partitioning = true) GROUP BY use")
            .ToDictionary(r => (string)r[0]!, r => (long)r[1]!);
        Dictionary<string, long> recorded = FirstRun().GetProperty("burials_by_use").EnumerateObject()
            .ToDictionary(p => p.Name, p => p.Value.GetInt64());
        Assert.Equal(recorded, uses);
        // whatever is not accepted says why, and the reason is a flag in the flags table
        Assert.Equal(0L,
            Work.Query(
                "SELECT count(*) FROM read_parquet('atlas/current/bags/**/*.parquet') WHERE (use = 'accepted') <> (use_because IS NULL)")[0][0]);
        Assert.Equal(0L, Work.Query("""
            WITH reasons AS (SELECT contribution_id, bag_id, unnest(string_split(use_because, ',')) AS code FROM read_parquet('atlas/current/bags/**/*.parquet'))
            SELECT count(*) FROM reasons r WHERE NOT EXISTS (SELECT 1 FROM read_parquet('atlas/current/flags/**/*.parquet') f WHERE f.code = r.code)
            """)[0][0]);
    }

    [Fact]
    public void K_and_S_recomputed_in_SQL_are_those_in_the_table()
    {
        // the equations of Keuskamp et al. 2013, written out again in SQL
        object?[] worst = Work.Query("""
            WITH b AS (SELECT * FROM read_parquet('atlas/current/burials/**/*.parquet', hive_partitioning = true) WHERE k_per_day IS NOT NULL),
            bags AS (SELECT * FROM read_parquet('atlas/current/bags/**/*.parquet', hive_partitioning = true)),
            lots AS (SELECT *, hydrolysable_fraction + CASE WHEN hydrolysable_parts <> 'all-soluble' THEN nonpolar_fraction ELSE 0 END
                AS all_soluble FROM read_parquet('atlas/current/lots/**/*.parquet')),
            x AS (SELECT b.*, 1 - fast_remaining_fraction AS af,
                  CASE WHEN b.is_ash_free AND lf.hydrolysable_basis = 'dry' THEN lf.all_soluble / (1 - lf.ash_fraction)
                       WHEN NOT b.is_ash_free AND lf.hydrolysable_basis = 'ash-free' THEN lf.all_soluble * (1 - lf.ash_fraction)
                       ELSE coalesce(lf.all_soluble, lf.hydrolysable_fraction) END AS hf,
                  CASE WHEN b.is_ash_free AND ls.hydrolysable_basis = 'dry' THEN ls.all_soluble / (1 - ls.ash_fraction)
                       WHEN NOT b.is_ash_free AND ls.hydrolysable_basis = 'ash-free' THEN ls.all_soluble * (1 - ls.ash_fraction)
                       ELSE coalesce(ls.all_soluble, ls.hydrolysable_fraction) END AS hs
                  FROM b JOIN bags f ON f.contribution_id = b.contribution_id AND f.bag_id = b.fast_bag_id
                  JOIN bags s ON s.contribution_id = b.contribution_id AND s.bag_id = b.slow_bag_id
                  JOIN lots lf ON lf.contribution_id = b.contribution_id AND lf.lot_id = f.lot_id
                  JOIN lots ls ON ls.contribution_id = b.contribution_id AND ls.lot_id = s.lot_id),
            y AS (SELECT *, 1 - af / hf AS s2, hs * (af / hf) AS a_s FROM x)
            SELECT max(abs(s2 - s)), max(abs(ln(a_s / (slow_remaining_fraction - (1 - a_s))) / exposure_days - k_per_day)), count(*) FROM y
            """)[0];
        Assert.True((double)worst[0]! < 1e-12);
        Assert.True((double)worst[1]! < 1e-12);
        Assert.True((long)worst[2]! > 1000);
    }

    [Fact]
    public void No_interval_of_k_has_a_negative_end_and_what_is_in_no_mean_is_counted()
    {
        object?[] row = Work.Query("""
            SELECT count(k_geometric_mean_lower95_per_day), min(k_geometric_mean_lower95_per_day),
                   count(*) FILTER (NOT (k_geometric_mean_lower95_per_day < k_geometric_mean_per_day AND k_geometric_mean_per_day < k_geometric_mean_upper95_per_day)),
                   sum(k_burials - ln_k_burials - k_not_positive_burials), sum(k_at_least_burials)
            FROM read_parquet('atlas/current/site_campaigns/**/*.parquet')
            """)[0];
        Assert.True((long)row[0]! > 100);
        Assert.True((double)row[1]! > 0);
        Assert.Equal(0L, row[2]);
        Assert.Equal("0", $"{row[3]}");
        object?[] burials = Work.Query("""
            SELECT count(*) FILTER (k_missing_because = 'slow-loss-at-plateau' AND use <> 'rejected'), min(k_lower95_per_day),
                   count(*) FILTER (k_per_day > 0 AND NOT (coalesce(k_lower95_per_day, 0) < k_per_day AND k_per_day < coalesce(k_upper95_per_day, 1e9))),
                   count(*) FILTER ((k_missing_because = 'slow-loss-at-plateau') <> (k_at_least_per_day IS NOT NULL) AND k_at_least_per_day IS NOT NULL)
            FROM read_parquet('atlas/current/burials/**/*.parquet')
            """)[0];
        Assert.Equal($"{burials[0]}", $"{row[4]}");
        Assert.True((double)burials[1]! > 0);
        Assert.Equal(0L, burials[2]);
        Assert.Equal(0L, burials[3]);
    }

    [Fact]
    public void Nearly_all_planted_faults_are_flagged_and_hardly_any_sound_record()
    {
        JsonElement demo =
            JsonDocument.Parse(Work.DecayAtlas("run", "pipeline/demo.yaml", "--json").Output).RootElement.GetProperty("demo");
        JsonElement faults = demo.GetProperty("faults");
        Assert.True(faults.GetProperty("planted").GetInt32() > 100);
        Assert.True(faults.GetProperty("found").GetInt32() >= 0.95 * faults.GetProperty("planted").GetInt32());
        Assert.True(faults.GetProperty("sound_records_flagged").GetInt32() <= 0.01 * faults.GetProperty("sound_records").GetInt32());
        Assert.True(demo.GetProperty("response").GetProperty("r_squared").GetDouble() > 0.7);
    }

    [Fact]
    public void Running_again_changes_nothing_and_says_so()
    {
        string[] folders = ["atlas/releases", "atlas/models", "atlas/maps", "atlas/intake", "atlas/quarantine"];
        SortedDictionary<string, string> before = Work.Bytes(folders);
        CommandResult again = Work.DecayAtlas("run", "pipeline/demo.yaml");

        Assert.Equal(0, again.ExitCode);
        Assert.Contains("Nothing changed", again.Output, StringComparison.Ordinal);
        Assert.Equal(before, Work.Bytes(folders));
    }

    [Fact]
    public void Two_runs_from_nothing_are_byte_identical()
    {
        using Workspace other = new();
        // one in a process of its own and one beside other work in this one: neither leaves a trace
        Assert.Equal(0, other.DecayAtlasHere("run", "pipeline/demo.yaml").ExitCode);
        string[] folders = ["scenario", "atlas/releases", "atlas/models", "atlas/maps", "atlas/parts", "atlas/intake", "atlas/quarantine"];
        Assert.Equal(Work.Bytes(folders), other.Bytes(folders));
    }

    [Fact]
    public void GDAL_reads_the_map_where_it_lies()
    {
        Assert.SkipUnless(Command.Has("gdalinfo"), "gdalinfo is not installed (Debian package gdal-bin)");
        JsonElement info =
            JsonDocument.Parse(
                Command.Run(Work.Folder, "gdalinfo", "--config", "GDAL_PAM_ENABLED", "NO", "-json", "-stats",
                    "atlas/maps/current/decay-rate.tif").Output).RootElement;
        JsonElement summary =
            JsonDocument.Parse(File.ReadAllText(Work.PathOf("atlas/maps/current/map.json"))).RootElement.GetProperty("lattice");

        Assert.Contains("WGS 84", info.GetProperty("coordinateSystem").GetProperty("wkt").GetString(), StringComparison.Ordinal);
        double[] transform = [.. info.GetProperty("geoTransform").EnumerateArray().Select(e => e.GetDouble())];
        Assert.Equal(summary.GetProperty("west").GetDouble(), transform[0], 9);
        Assert.Equal(summary.GetProperty("north").GetDouble(), transform[3], 9);
        Assert.Equal(summary.GetProperty("cell_width").GetDouble(), transform[1], 12);
        Assert.Equal(-summary.GetProperty("cell_height").GetDouble(), transform[5], 12);
        JsonElement band = info.GetProperty("bands")[0];
        Assert.Equal(256, band.GetProperty("block")[0].GetInt32());
        Assert.True(band.TryGetProperty("noDataValue", out _));
        Assert.True(band.GetProperty("overviews").GetArrayLength() > 0);
        Assert.Equal(
            [
                "decay_rate", "decay_rate_lower", "decay_rate_upper", "dissimilarity", "applicable", "half_life", "half_life_lower",
                "half_life_upper",
            ],
            info.GetProperty("bands").EnumerateArray().Select(b => b.GetProperty("description").GetString()));
        Assert.InRange(band.GetProperty("mean").GetDouble(), 0.005, 0.03);
    }

    [Fact]
    public void GDAL_finds_at_every_site_the_covariate_that_we_snapped()
    {
        Assert.SkipUnless(Command.Has("gdallocationinfo") && Command.Has("bash"),
            "gdallocationinfo (Debian package gdal-bin) or bash is not installed");
        List<object?[]> rows = Work.Query("""
            SELECT s.decimal_longitude, s.decimal_latitude, c.value
            FROM read_parquet('atlas/current/covariates/**/*.parquet') c
            JOIN read_parquet('atlas/current/sites/**/*.parquet') s USING (site_key)
            WHERE c.covariate = 'elevation' AND c.status = 'sampled' AND NOT s.coordinates_generalised ORDER BY site_key LIMIT 60
            """);
        Assert.True(rows.Count > 50);
        File.WriteAllLines(Work.PathOf("places.txt"),
            rows.Select(row => string.Create(CultureInfo.InvariantCulture, $"{row[0]:R} {row[1]:R}")));
        string[] answers = Command.Run(Work.Folder, "bash", "-c",
            "gdallocationinfo -valonly -wgs84 scenario/grids/elevation.tif < places.txt").Output.TrimEnd().Split('\n');
        Assert.Equal(rows.Count, answers.Length);
        // gdallocationinfo prints the stored number; the file's scale and offset come on top where it has them
        foreach ((string answer, object?[] row) in answers.Zip(rows))
            Assert.Equal(double.Parse(answer, CultureInfo.InvariantCulture), (double)row[2]!, 3);
    }

    [Fact]
    public void Checksums_are_in_the_form_that_sha256sum_checks()
    {
        Assert.SkipUnless(Command.Has("sha256sum"), "sha256sum is not installed (Debian package coreutils)");
        CommandResult check = Command.Run(Work.PathOf("atlas/current"), "sha256sum", "--check", "--quiet", "checksums.sha256");
        Assert.True(check.ExitCode == 0, check.Everything);
    }
}
