using System.Globalization;

namespace DecayAtlas.EndToEnd;

/// <summary>Covariates weighted to the days and the depth of a bag, worked out again by another path: GDAL reads the grids, DuckDB does the
/// sums.</summary>
public class WhatBagsFelt(DemoRun demo)
{
    private Workspace Work => demo.Workspace;

    [Fact]
    public void Day_by_day_in_SQL_the_months_come_out_as_in_the_release()
    {
        Assert.SkipUnless(Command.Has("gdal_translate"), "gdal_translate is not installed (Debian package gdal-bin)");
        string cells = Path.Combine(Work.Folder, "cells");
        Directory.CreateDirectory(cells);
        for (int month = 1; month <= 12; month++)
        {
            string two = month.ToString("00", CultureInfo.InvariantCulture);
            Translate("air_temperature_months.tif", month, Path.Combine(cells, $"t{two}.xyz"));
            Translate($"precipitation_{two}.tif", 1, Path.Combine(cells, $"p{two}.xyz"));
        }

        // Stored numbers are tenths. The lattice starts at 34 W, 37 S and has cells of 0.05 degrees. A day of the exposure takes the
        // value of its month: temperatures are averaged over the days, a month's precipitation is spread evenly over its days.
        object?[] worst = Work.Query("""
            CREATE TABLE cells AS SELECT regexp_extract(filename, '([tp])(\d\d).xyz', 1) AS what, CAST(regexp_extract(filename, '([tp])(\d\d).xyz', 2) AS INT) AS month,
                CAST(floor((x + 34) / 0.05) AS INT) AS c, CAST(floor((-37 - y) / 0.05) AS INT) AS r, v * 0.1 AS v
                FROM read_csv('cells/*.xyz', delim = ' ', header = false, columns = {'x': 'DOUBLE', 'y': 'DOUBLE', 'v': 'DOUBLE'}, filename = true) WHERE v > -32768;
            CREATE TABLE places AS SELECT site_key, (decimal_longitude + 34) / 0.05 - 0.5 AS px, (-37 - decimal_latitude) / 0.05 - 0.5 AS py
                FROM read_parquet('atlas/current/sites/**/*.parquet') WHERE NOT coordinates_generalised;
            CREATE TABLE corners AS SELECT site_key, CAST(floor(px) AS INT) + i AS c, CAST(floor(py) AS INT) + j AS r,
                (CASE i WHEN 0 THEN 1 - (px - floor(px)) ELSE px - floor(px) END) * (CASE j WHEN 0 THEN 1 - (py - floor(py)) ELSE py - floor(py) END) AS w
                FROM places, (VALUES (0), (1)) AS a(i), (VALUES (0), (1)) AS b(j);
            CREATE TABLE monthly AS SELECT site_key, what, month, sum(w * v) AS v FROM corners JOIN cells USING (c, r) GROUP BY ALL HAVING count(*) = 4;
            CREATE TABLE days AS SELECT contribution_id, burial_id, site_key, unnest(generate_series(buried_on, retrieved_on - INTERVAL 1 DAY, INTERVAL 1 DAY)) AS day
                FROM read_parquet('atlas/current/burials/**/*.parquet') WHERE retrieved_on > buried_on;
            CREATE TABLE felt AS SELECT contribution_id, burial_id, avg(v) FILTER (what = 't') AS t,
                sum(greatest(v - 5, 0)) FILTER (what = 't') AS dd, sum(v / day(last_day(day))) FILTER (what = 'p') AS p
                FROM days d JOIN monthly m ON m.site_key = d.site_key AND m.month = month(d.day) GROUP BY ALL;
            SELECT count(*), max(abs(a.value - t)), max(abs(b.value - p)), max(abs(c.value - dd)) FROM felt
                JOIN read_parquet('atlas/current/burial_covariates/*.parquet') a USING (contribution_id, burial_id)
                JOIN read_parquet('atlas/current/burial_covariates/*.parquet') b USING (contribution_id, burial_id)
                JOIN read_parquet('atlas/current/burial_covariates/*.parquet') c USING (contribution_id, burial_id)
                WHERE a.covariate = 'air_temperature_exposure' AND b.covariate = 'precipitation_exposure' AND c.covariate = 'degree_days'
                AND a.rule = 'bilinear' AND a.status = 'sampled'
            """)[0];
        Assert.True((long)worst[0]! > 1000, $"{worst[0]}");
        Assert.True((double)worst[1]! < 1e-9, $"{worst[1]}");
        Assert.True((double)worst[2]! < 1e-9, $"{worst[2]}");
        Assert.True((double)worst[3]! < 1e-6, $"{worst[3]}");
    }

    private void Translate(string grid, int band, string target)
    {
        CommandResult made =
            Command.Run(Work.Folder, "gdal_translate", "-q", "-of", "XYZ", "-b", band.ToString(CultureInfo.InvariantCulture),
            "--config", "GDAL_PAM_ENABLED", "NO", Work.PathOf($"scenario/grids/{grid}"), target);
        Assert.True(made.ExitCode == 0, made.Everything);
    }

    [Fact]
    public void Weights_in_the_release_are_the_share_of_days_and_of_the_bag_that_each_layer_has()
    {
        // a bag of 5 cm at 8 cm fills 5.5 to 10.5 cm, all of it in the layer from 5 to 15 cm
        Assert.Equal([["5-15 cm x 1"]], Work.Query("""
            SELECT DISTINCT layers FROM read_parquet('atlas/current/burial_covariates/*.parquet') c
            JOIN read_parquet('atlas/current/burials/**/*.parquet') b USING (contribution_id, burial_id)
            WHERE covariate = 'soil_carbon' AND depth_cm = 8 AND status <> 'withheld'
            """));
        Assert.Equal(0L, Work.Query("""
            WITH parts AS (SELECT contribution_id, burial_id, covariate, unnest(string_split(layers, '; ')) AS part FROM read_parquet('atlas/current/burial_covariates/*.parquet')
                           WHERE covariate IN ('air_temperature_exposure', 'soil_carbon')),
            sums AS (SELECT sum(CAST(regexp_extract(part, ' x (.*)$', 1) AS DOUBLE)) AS weight FROM parts GROUP BY contribution_id, burial_id, covariate)
            SELECT count(*) FROM sums WHERE abs(weight - 1) > 1e-5
            """)[0][0]);
        Assert.Equal(0L, Work.Query("""
            SELECT count(*) FROM read_parquet('atlas/current/burial_covariates/*.parquet')
            WHERE covariate IN ('evapotranspiration', 'temperature_response') AND status = 'sampled' AND NOT (formula LIKE '%from % air_temperature_exposure')
            """)[0][0]);
    }

    [Fact]
    public void A_campaign_holds_the_mean_over_the_burials_whose_k_it_averages()
    {
        object?[] worst = Work.Query("""
            WITH b AS (SELECT b.site_key, b.campaign, b.treatment, c.covariate, avg(c.value) AS mean, count(c.value) AS n
                       FROM read_parquet('atlas/current/burials/**/*.parquet') b JOIN read_parquet('atlas/current/burial_covariates/*.parquet') c USING (contribution_id, burial_id)
                       WHERE b.use = 'accepted' AND b.k_per_day > 0 GROUP BY ALL)
            SELECT count(*), max(abs(mean - value_mean)), count(*) FILTER (n <> burials AND NOT is_withheld) FROM b
            JOIN read_parquet('atlas/current/campaign_covariates/*.parquet') c ON c.site_key = b.site_key AND c.campaign = b.campaign AND c.treatment IS NOT DISTINCT FROM b.treatment AND c.covariate = b.covariate
            """)[0];
        Assert.True((long)worst[0]! > 1500);
        Assert.True((double)worst[1]! < 1e-9);
        Assert.Equal(0L, worst[2]);
    }

    [Fact]
    public void Nothing_that_a_bag_felt_at_a_sensitive_site_is_released()
    {
        object?[] row = Work.Query("""
            WITH hidden AS (SELECT site_key FROM read_parquet('atlas/current/sites/**/*.parquet') WHERE coordinates_generalised)
            SELECT count(*), count(value), count(layers), count(distance_m), count(*) FILTER (status = 'withheld'),
                   (SELECT count(value_mean) + count(*) FILTER (NOT is_withheld) FROM read_parquet('atlas/current/campaign_covariates/*.parquet') JOIN hidden USING (site_key)),
                   (SELECT count(value) + count(label) FROM read_parquet('atlas/current/covariates/*.parquet') JOIN hidden USING (site_key))
            FROM read_parquet('atlas/current/burial_covariates/*.parquet') JOIN hidden USING (site_key)
            """)[0];
        Assert.True((long)row[0]! > 50);
        Assert.Equal([0L, 0L, 0L, row[0], 0L, 0L], row[1..]);
    }

    [Fact]
    public void Names_stand_beside_numbers_and_the_classes_are_those_of_the_islands()
    {
        Assert.Equal(["Cfb", "Cfc", "ET"],
            Work.Query(
                "SELECT DISTINCT label FROM read_parquet('atlas/current/covariates/*.parquet') WHERE covariate = 'climate_class' AND "
                + "label IS NOT NULL ORDER BY 1").Select(r => (string)r[0]!).Where(l => l is "Cfb" or "Cfc" or "ET"));
        Assert.True(
            Work.Query(
                "SELECT DISTINCT label FROM read_parquet('atlas/current/covariates/*.parquet') WHERE covariate = 'soil_unit' AND label "
                + "IS NOT NULL").Count >= 3);
    }

    [Fact]
    public void The_model_learns_from_what_bags_felt_and_a_changed_month_is_snapped_again_alone()
    {
        Assert.SkipUnless(Workspace.CanCopy, "cp is not installed");
        using Workspace work = new();
        // the demo's release, and another model of it
        foreach (string folder in new[] { "atlas", "scenario" })
            work.Copy(demo.Workspace, folder);
        File.WriteAllLines(work.PathOf("pipeline/felt.yaml"),
        [
            "version: 1",
            .. File.ReadAllLines(work.PathOf("pipeline/demo.yaml"))
                .SkipWhile(l => !l.StartsWith("atlas", StringComparison.Ordinal))
                .TakeWhile(l => !l.StartsWith("train", StringComparison.Ordinal)),
            "train: { covariates: [temperature_response, precipitation_exposure, soil_carbon, soil_ph, clay], trees: 20, folds: 2,",
            // as little as shows what it learned from
            "  settings_tried: 1, members: 20, importance_repeats: 1 }",
        ]);
        CommandResult trained = work.DecayAtlasHere("train", "pipeline/felt.yaml");
        Assert.True(trained.ExitCode == 0, trained.Everything);
        string card = File.ReadAllText(work.PathOf("atlas/models/current/card.json"));
        Assert.Contains("\"temperature_response\"", card, StringComparison.Ordinal);
        Assert.Contains("\"soil_carbon\"", card, StringComparison.Ordinal);

        long places = (long)work.Query("SELECT count(*) FROM read_parquet('atlas/current/sites/**/*.parquet')")[0][0]!;
        // April's bytes in the place of March's: other values, and every place was sampled in these bytes before
        File.Copy(work.PathOf("scenario/grids/precipitation_04.tif"), work.PathOf("scenario/grids/precipitation_03.tif"), overwrite: true);
        CommandResult moved = work.DecayAtlasHere("publish", "pipeline/felt.yaml");
        Assert.Contains("nothing to sample", moved.Everything, StringComparison.Ordinal);
        Assert.Contains("release 0002-", moved.Everything, StringComparison.OrdinalIgnoreCase);

        // bytes that nobody sampled: of the changed file and nothing else; a few sites have two places
        File.Copy(work.PathOf("scenario/grids/soil_carbon.tif"), work.PathOf("scenario/grids/precipitation_03.tif"), overwrite: true);
        CommandResult again = work.DecayAtlasHere("publish", "pipeline/felt.yaml");
        int sampled =
            int.Parse(System.Text.RegularExpressions.Regex.Match(again.Everything, @"(\d+) values sampled").Groups[1].Value,
                CultureInfo.InvariantCulture);
        Assert.InRange(sampled, places, places + 5);
    }
}
