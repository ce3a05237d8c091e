using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>Predictions asked of the atlas by hand: places and rows, regions, differences; and what wrong requests are told.</summary>
public class PredictionsFromTheAtlas(DemoRun demo)
{
    private Workspace Work => demo.Workspace;

    private string Write(string name, string text)
    {
        File.WriteAllText(Work.PathOf(name), text);
        return name;
    }

    private CommandResult Expect(int exitCode, string words, params string[] args)
    {
        CommandResult result = Work.DecayAtlasHere(args);
        Assert.True(result.ExitCode == exitCode, $"exit code {result.ExitCode}: {result.Everything}");
        Assert.Contains(words, result.Everything, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", result.Everything, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", result.Everything, StringComparison.Ordinal);
        return result;
    }

    /// <summary>A configuration beside the demo's with another section map, so that the demo's own current map stays.</summary>
    private string WithMap(string name, string map, string? grids = null) =>
        Write($"pipeline/{name}.yaml", File.ReadAllText(Work.PathOf("pipeline/demo.yaml"))
        .Split("\nmap:")[0]
        .Replace("grids: ../scenario/grids.yaml", $"grids: ../{grids ?? "scenario/grids.yaml"}", StringComparison.Ordinal)
        + $"\nmap: {map}\n");

    /// <summary>The demo's catalogue, to be changed and written beside the scenario, which stays as it is.</summary>
    private string Catalogue() =>
        File.ReadAllText(Work.PathOf("scenario/grids.yaml")).Replace("grids/", "scenario/grids/", StringComparison.Ordinal);

    [Fact]
    public void A_point_at_a_cell_s_centre_is_told_what_the_map_says_there()
    {
        JsonElement lattice =
            JsonDocument.Parse(File.ReadAllText(Work.PathOf("atlas/maps/current/map.json"))).RootElement.GetProperty("lattice");
        double west = lattice.GetProperty("west").GetDouble(), north = lattice.GetProperty("north").GetDouble(),
            cell = lattice.GetProperty("cell_width").GetDouble();
        (int Column, int Row)[] cells = [(360, 240), (300, 300), (200, 120), (620, 200), (5, 5)];
        Write("points.csv",
            "id,decimal_latitude,decimal_longitude\n" + string.Concat(cells.Select((c, i) => string.Create(CultureInfo.InvariantCulture,
            $"p{i},{north - (c.Row + 0.5) * cell:R},{west + (c.Column + 0.5) * cell:R}\n"))));
        Expect(0, "of 5 rows predicted", "predict", "pipeline/demo.yaml", "--points", "points.csv", "--output", "predicted.csv");
        Expect(0, "noted burial", "predict", "pipeline/demo.yaml", "--points", "points.csv", "--output", "predicted.csv");
        string[][] rows = [.. File.ReadAllLines(Work.PathOf("predicted.csv")).Skip(1).Select(l => l.Split(','))];
        Assert.SkipUnless(Command.Has("gdallocationinfo"), "gdallocationinfo is not installed (Debian package gdal-bin)");
        int predicted = 0;
        for (int i = 0; i < cells.Length; i++)
        {
            string[] bands =
                Command.Run(Work.Folder, "gdallocationinfo", "-valonly",
                    "atlas/maps/current/decay-rate.tif", $"{cells[i].Column}", $"{cells[i].Row}").Output.Split('\n');
            if (bands[0].Contains("nan", StringComparison.OrdinalIgnoreCase))
                continue;   // sea; a point may still find a covariate nearby, as a site does
            predicted++;
            // the two ends of what a site would be measured as stand in no map
            foreach ((int b, int column) in new[] { (0, 3), (1, 4), (2, 5), (3, 8) })
            {
                Assert.Equal(double.Parse(bands[b], CultureInfo.InvariantCulture),
                    double.Parse(rows[i][column], CultureInfo.InvariantCulture),
                        2e-4 * Math.Max(0.01, double.Parse(bands[b], CultureInfo.InvariantCulture)));
            }

            Assert.Equal(bands[4] == "1" ? "yes" : "no", rows[i][9]);
            Assert.True(double.Parse(rows[i][6], CultureInfo.InvariantCulture) < double.Parse(rows[i][4], CultureInfo.InvariantCulture));
            Assert.True(double.Parse(rows[i][7], CultureInfo.InvariantCulture) > double.Parse(rows[i][5], CultureInfo.InvariantCulture));
        }

        Assert.True(predicted >= 3);
    }

    [Fact]
    public void Rows_of_covariates_are_predicted_in_a_new_process_as_their_places_are()
    {
        JsonElement card = JsonDocument.Parse(File.ReadAllText(Work.PathOf("atlas/models/current/card.json"))).RootElement;
        string[] names = [.. card.GetProperty("covariates").EnumerateArray().Select(c => c.GetProperty("name").GetString()!)];
        string[] middle = [.. card.GetProperty("covariates").EnumerateArray().Select(c =>
            ((c.GetProperty("training_minimum").GetDouble() + c.GetProperty("training_maximum").GetDouble()) / 2).ToString("R",
            CultureInfo.InvariantCulture))];
        Write("rows.csv", $"note;{string.Join(';', names)}\n\"=1+1\";{string.Join(';', middle)}\n;{string.Join(';',
            middle[..^1])};\n-3;{string.Join(';', middle[..^1])};much\n");
        string first = Work.DecayAtlas("predict", "pipeline/demo.yaml", "--rows", "rows.csv").Output,
            second = Work.DecayAtlas("predict", "pipeline/demo.yaml", "--rows", "rows.csv").Output;
        Assert.Equal(first, second);
        string[] lines = first.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.StartsWith("'=1+1;", lines[1].Replace("\"", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal("predicted", lines[1].Split(';')[^4]);   // three half-lives follow
        Assert.EndsWith($";missing: {names[^1]};;;", lines[2], StringComparison.Ordinal);
        Assert.StartsWith("-3;", lines[3], StringComparison.Ordinal);
        Assert.EndsWith($";{names[^1]} is no number;;;", lines[3], StringComparison.Ordinal);
    }

    [Fact]
    public void Regions_are_summed_the_same_in_all_three_formats()
    {
        Write("regions.geojson", """
            {"type":"FeatureCollection","features":[
            {"type":"Feature","properties":{"name":"=west"},"geometry":{"type":"Polygon","coordinates":[[[-33,-43],[-28,-43],[-28,-37],[-33,-37],[-33,-43]]]}},
            {"type":"Feature","properties":{"name":"sea"},"geometry":{"type":"Polygon","coordinates":[[[-34,-38],[-33,-38],[-33,-37.2],[-34,-38]]]}}]}
            """);
        Expect(0, "regions.parquet", "regions", "pipeline/demo.yaml", "--polygons", "regions.geojson", "--output", "summed");
        Expect(0, "noted burial", "regions", "pipeline/demo.yaml", "--polygons", "regions.geojson", "--output", "again", "--json");
        object?[] csv = Work.Query("SELECT * FROM read_csv('summed/regions.csv') ORDER BY area_km2 DESC")[0];
        object?[] parquet = Work.Query("SELECT * FROM read_parquet('summed/regions.parquet') ORDER BY area_km2 DESC")[0];
        Assert.Equal("'=west", csv[0]);
        Assert.Equal("=west", parquet[0]);
        JsonElement json =
            JsonDocument.Parse(File.ReadAllText(Work.PathOf("summed/regions.geojson"))).RootElement.GetProperty("features")[0]
                .GetProperty("properties");
        for (int i = 1; i < parquet.Length; i++)
        {
            Assert.Equal(Convert.ToDouble(parquet[i], CultureInfo.InvariantCulture),
                Convert.ToDouble(csv[i], CultureInfo.InvariantCulture), 1e-9);
            Assert.Equal(Convert.ToDouble(parquet[i], CultureInfo.InvariantCulture), json.EnumerateObject().ElementAt(i).Value.GetDouble(),
                1e-9);
        }

        Assert.Equal(0L,
            Work.Query(
                "SELECT count(*) FROM read_parquet('summed/regions.parquet') WHERE name = 'sea' AND k_mean_per_day IS NOT NULL")[0][0]);
        Assert.Equal(1L,
            Work.Query(
                "SELECT count(*) FROM read_parquet('summed/regions.parquet') WHERE k_mean_lower_per_day < k_mean_per_day AND "
                + "k_mean_per_day < k_mean_upper_per_day AND predicted_km2 < area_km2 AND independent_cells < cells")[0][0]);
    }

    [Fact]
    public void Places_to_bury_at_next_are_the_same_in_both_formats_and_what_was_not_looked_at_comes_first()
    {
        Write("isles.geojson", """
            {"type":"FeatureCollection","features":[
            {"type":"Feature","properties":{"name":"east"},"geometry":{"type":"Polygon","coordinates":[[[-28,-42.7],[-25.4,-42.7],[-25.4,-37.7],[-28,-37.7],[-28,-42.7]]]}},
            {"type":"Feature","properties":{"name":"sea"},"geometry":{"type":"Polygon","coordinates":[[[-34,-38],[-33.8,-38],[-33.8,-37.8],[-34,-38]]]}}]}
            """);
        Write("park.geojson", """
            {"type":"Feature","properties":{"name":"park"},"geometry":{"type":"Polygon","coordinates":[[[-27,-42.6],[-26,-42.6],[-26,-39],[-27,-39],[-27,-42.6]]]}}
            """);
        string[] asked = ["sites", "pipeline/demo.yaml", "--polygons", "isles.geojson"];
        Assert.StartsWith("Nobody said where not to bury", Work.DecayAtlas([.. asked, "--region", "east", "--count", "5", "--output", "next"])
            .Output, StringComparison.Ordinal);
        Expect(0, "Local rules go first", [.. asked, "--region", "east", "--count", "5", "--avoid", "park.geojson", "--output", "avoided"]);
        Expect(0, "\"half_width", [.. asked, "--region", "east", "--count", "5", "--output", "again", "--json"]);
        foreach (string name in new[] { "sites.csv", "sites.geojson", "sites.png", "sites-gain.csv", "sites-gain.svg", "sites-gain.png" })
            Assert.Equal(File.ReadAllBytes(Work.PathOf("next/" + name)), File.ReadAllBytes(Work.PathOf("again/" + name)));
        object?[][] csv = [.. Work.Query("SELECT * FROM read_csv('next/sites.csv') ORDER BY rank")];
        JsonElement features = JsonDocument.Parse(File.ReadAllText(Work.PathOf("next/sites.geojson"))).RootElement.GetProperty("features");
        Assert.Equal(5, csv.Length);
        for (int i = 0; i < csv.Length; i++)
        {
            Assert.Equal(Convert.ToDouble(csv[i][2], CultureInfo.InvariantCulture),
                features[i].GetProperty("geometry").GetProperty("coordinates")[0].GetDouble(), 1e-9);
            Assert.Equal("east", features[i].GetProperty("properties").GetProperty("region").GetString());
        }

        Assert.Equal(0L, Work.Query("SELECT count(*) FROM read_csv('avoided/sites.csv') WHERE longitude BETWEEN -27 AND -26 AND latitude "
            + "BETWEEN -42.6 AND -39")[0][0]);
        Assert.Equal(1L, Work.Query("SELECT count(*) FROM read_csv('next/sites-gain.csv') WHERE sites = 5 AND chosen_percent < "
            + "(SELECT max(chosen_percent) FROM read_csv('next/sites-gain.csv')) AND chosen_percent > floor_percent AND floor_percent > "
            + "shared_percent")[0][0]);
        Expect(2, "the nearest name is 'east'", [.. asked, "--region", "easst", "--output", "no"]);
        Expect(2, "expected 1 to 100 new sites", [.. asked, "--count", "0", "--output", "no"]);
        Expect(3, "Region 'sea' holds no cell of the map", [.. asked, "--region", "sea", "--output", "no"]);
        Expect(2, "there are none", "sites", "pipeline/demo.yaml", "--region", "east", "--output", "no");
        Expect(3, "There is no polygon file", [.. asked, "--avoid", "none.geojson", "--output", "no"]);
    }

    [Fact]
    public void A_warmer_catalogue_gives_a_map_of_change_and_one_thread_the_same_bytes()
    {
        Write("warm.yaml", Catalogue()
            .Replace("file: scenario/grids/air_temperature.tif", "file: scenario/grids/air_temperature.tif\n    scale: 0.1\n    offset: 2",
                StringComparison.Ordinal));
        Expect(0, "applicable on both sides", "difference", "pipeline/demo.yaml", "--grids", "warm.yaml", "--output", "change");
        Assert.True(JsonDocument.Parse(File.ReadAllText(Work.PathOf("change/difference.json"))).RootElement.GetProperty("mean_ratio")
            .GetDouble() > 1.02);
        Assert.Contains("noted burial", JsonDocument.Parse(File.ReadAllText(Work.PathOf("change/difference.json"))).RootElement
            .GetProperty("before").GetProperty("without_noted").GetString(), StringComparison.Ordinal);
        Assert.SkipUnless(Command.Has("env"), "env (Debian package coreutils) is not installed");
        CommandResult alone =
            Command.Run(Work.Folder, "env", "DOTNET_PROCESSOR_COUNT=1", "dotnet", Path.Combine(AppContext.BaseDirectory, "decayatlas.dll"),
            "difference", "pipeline/demo.yaml", "--grids", "warm.yaml", "--output", "alone");
        Assert.Equal(0, alone.ExitCode);
        foreach (string name in new[] { "difference.tif", "difference.nc", "difference.png", "difference.json" })
            Assert.Equal(File.ReadAllBytes(Work.PathOf("change/" + name)), File.ReadAllBytes(Work.PathOf("alone/" + name)));
    }

    [Fact]
    public void Maps_that_cannot_be_made_are_one_clear_sentence()
    {
        Write("crossed.geojson", "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[2,2],[2,0],[0,2],[0,0]]]}");
        (string Says, string Map)[] cases =
        [
            ("lies outside the area that all covariate grids share", "{ bbox: [10, 10, 20, 20] }"),
            ("EPSG:999999", "{ crs: \"EPSG:999999\", cell_size: 1000 }"),
            ("add cell_size", "{ crs: \"EPSG:6933\" }"),
            ("more than the 2200000000 that one map may have", "{ crs: \"EPSG:6933\", cell_size: 10 }"),
            ("no sound polygon", "{ polygons: ../crossed.geojson }"),
            ("There is no polygon file", "{ polygons: ../nowhere.geojson }"),
            ("cell_size", "{ cell_size: -5 }"),
            ("region_name", "{ region_name: id }"),
            ("retrieved_on", "{ buried_on: \"2024-05-01\" }"),
        ];
        for (int i = 0; i < cases.Length; i++)
            Expect(2, cases[i].Says, "map", WithMap($"bad{i}", cases[i].Map));
        Assert.Empty(Directory.GetDirectories(Work.PathOf("atlas/maps"), ".*"));
        Write("less.yaml", Catalogue().Replace("- name: clay\n", "- name: loam\n", StringComparison.Ordinal));
        Expect(2, "clay", "map", WithMap("lacking", "{ title: T }", "less.yaml"));
    }

    [Fact]
    public void Other_requests_that_cannot_be_met_are_one_clear_sentence()
    {
        Write("nothing.csv", "id,x\n1,2\n");
        Write("taken.csv", "decimal_latitude,decimal_longitude,status\n1,2,3\n");
        Write("ragged.csv", "decimal_latitude,decimal_longitude\n1,2,3\n");
        Write("point.geojson", "{\"type\":\"Point\",\"coordinates\":[0,0]}");
        Expect(2, "either --points or --rows", "predict", "pipeline/demo.yaml");
        Expect(2, $"There is no table {Work.PathOf("none.csv")}", "predict", "pipeline/demo.yaml", "--points", "none.csv");
        Expect(2, "no column decimal_latitude, decimal_longitude", "predict", "pipeline/demo.yaml", "--points", "nothing.csv");
        Expect(2, "there is a column status already", "predict", "pipeline/demo.yaml", "--points", "taken.csv");
        Expect(2, "ragged.csv:2: 3 cells, expected 2", "predict", "pipeline/demo.yaml", "--points", "ragged.csv");
        Expect(2, "is the table that is read", "predict", "pipeline/demo.yaml", "--points", "nothing.csv", "--output", "nothing.csv");
        Expect(2, "has no model m-none", "predict", "pipeline/demo.yaml", "--points", "nothing.csv", "--model", "m-none");
        Expect(3, "its type is Point", "regions", "pipeline/demo.yaml", "--polygons", "point.geojson", "--output", "no");
        Expect(2, "takes --grids, --model or --as-if", "difference", "pipeline/demo.yaml", "--output", "no");
        Expect(2, "nowhere.yaml", "difference", "pipeline/demo.yaml", "--grids", "nowhere.yaml", "--output", "no");
        Assert.False(Directory.Exists(Work.PathOf("no")) && Directory.GetFiles(Work.PathOf("no")).Length > 0);

        // a model of another schema
        string old = Work.PathOf("old/models/current");
        Directory.CreateDirectory(old);
        foreach (string file in Directory.GetFiles(Work.PathOf("atlas/models/current")))
            File.Copy(file, Path.Combine(old, Path.GetFileName(file)), overwrite: true);
        string cardPath = Path.Combine(old, "card.json");
        File.WriteAllText(cardPath,
            System.Text.RegularExpressions.Regex.Replace(File.ReadAllText(cardPath), "\"card_version\": \\d+", "\"card_version\": 999"));
        Write("pipeline/old.yaml", File.ReadAllText(Work.PathOf("pipeline/demo.yaml"))
            .Replace("atlas: ../atlas", "atlas: ../old", StringComparison.Ordinal));
        Expect(3, "card_version", "predict", "pipeline/old.yaml", "--points", "taken.csv");

        // one that reads well, and is not what was trained
        File.Copy(Work.PathOf("atlas/models/current/card.json"), cardPath, overwrite: true);
        File.AppendAllText(Path.Combine(old, "limits.json"), " ");
        Expect(3, "limits.json cannot be trusted", "predict", "pipeline/old.yaml", "--points", "taken.csv");
    }

    [Fact]
    public void A_row_whose_season_or_depth_makes_no_sense_is_not_predicted_for_another()
    {
        Write("seasons.csv",
            "decimal_latitude,decimal_longitude,buried_on,retrieved_on,depth_cm\n-40,-30,2024-05-01,2024-04-01,\n-40,-30,2024-05-01,,\n-40,-30,,,-5\n-40,-30,2024-04-01,2024-07-01,8\n");
        Expect(0, "", "predict", "pipeline/demo.yaml", "--points", "seasons.csv", "--output", "seasons-out.csv");
        Assert.Equal(
            ["retrieved_on is not after buried_on", "one of buried_on and retrieved_on is missing", "depth_cm is not 0 to 1000",
            "predicted"],
            File.ReadAllLines(Work.PathOf("seasons-out.csv")).Skip(1).Select(l => l.Split(',')[^4]));   // three half-lives follow
    }
}
