using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>S of the demo mapped, summed, predicted and compared like k, and both together; what is written read back by DuckDB and
/// GDAL.</summary>
public class StabilisationMapped(DemoRun demo)
{
    private const string Places = "atlas/maps/current-stabilisation/stabilisation.tif";

    private Workspace Work => demo.Workspace;

    private CommandResult Expect(int exitCode, string words, params string[] args)
    {
        CommandResult result = Work.DecayAtlasHere(args);
        Assert.True(result.ExitCode == exitCode, $"exit code {result.ExitCode}: {result.Everything}");
        Assert.Contains(words, result.Everything, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", result.Everything, StringComparison.Ordinal);
        return result;
    }

    [Fact]
    public void The_three_maps_stand_beside_each_other_and_say_whose_they_are()
    {
        JsonElement s = Json("atlas/maps/current-stabilisation/map.json"), joint = Json("atlas/maps/current-joint/joint.json");
        Assert.Equal(Json("atlas/models/current-stabilisation/card.json").GetProperty("model_id").GetString(),
            s.GetProperty("model_id").GetString());
        Assert.Equal((Json("atlas/models/current/card.json").GetProperty("model_id").GetString(), s.GetProperty("model_id").GetString()),
            (joint.GetProperty("rate_model_id").GetString(), joint.GetProperty("stabilisation_model_id").GetString()));
        Assert.Equal((Made("current"), Made("current-stabilisation")),
            (joint.GetProperty("rate_map_id").GetString(), joint.GetProperty("stabilisation_map_id").GetString()));
        Assert.InRange(s.GetProperty("stabilisation").GetProperty("mean").GetDouble(), 0.2, 0.35);
        Assert.False(s.TryGetProperty("mean_rate_per_day", out _));
        foreach (string folder in new[] { "map/decay-rate.tif", "map-s/stabilisation.tif", "map-joint/joint.tif.aux.xml" })
            Assert.True(File.Exists(Work.PathOf("atlas/current/pages/" + folder)), folder);
    }

    [Fact]
    public void A_point_at_a_cell_s_centre_is_told_the_S_of_the_map_and_the_half_life_of_its_k()
    {
        JsonElement lattice = Json("atlas/maps/current-stabilisation/map.json").GetProperty("lattice");
        double west = lattice.GetProperty("west").GetDouble(), north = lattice.GetProperty("north").GetDouble(),
            cell = lattice.GetProperty("cell_width").GetDouble();
        (int Column, int Row)[] cells = [(360, 240), (300, 300), (200, 120), (620, 200)];
        File.WriteAllText(Work.PathOf("places-s.csv"), "decimal_latitude,decimal_longitude\n" + string.Concat(cells.Select(c =>
            string.Create(CultureInfo.InvariantCulture, $"{north - (c.Row + 0.5) * cell:R},{west + (c.Column + 0.5) * cell:R}\n"))));
        Expect(0, "rows predicted", "predict", "pipeline/demo.yaml", "--of", "s", "--points", "places-s.csv", "--output", "s.csv");
        Expect(0, "rows predicted", "predict", "pipeline/demo.yaml", "--of", "k", "--points", "places-s.csv", "--output", "k.csv");
        Assert.Equal(0L, Work.Query("SELECT count(*) FROM read_csv('k.csv') WHERE abs(half_life_days * k_per_day / ln(2) - 1) > 1e-6 "
            + "OR half_life_lower_days * k_upper_per_day / ln(2) NOT BETWEEN 0.999999 AND 1.000001 OR half_life_upper_days < half_life_days")
            [0][0]);
        Assert.SkipUnless(Command.Has("gdallocationinfo"), "gdallocationinfo is not installed (Debian package gdal-bin)");
        List<object?[]> told = Work.Query("SELECT s, s_lower, s_upper FROM read_csv('s.csv')");
        int compared = 0;
        foreach (((int Column, int Row) at, object?[] row) in cells.Zip(told))
        {
            string[] bands = Command.Run(Work.Folder, "gdallocationinfo", "-valonly", Places, $"{at.Column}", $"{at.Row}").Output
                .Split('\n');
            if (bands[0].Contains("nan", StringComparison.OrdinalIgnoreCase))
                continue;
            for (int b = 0; b < 3; b++)
                Assert.Equal(double.Parse(bands[b], CultureInfo.InvariantCulture), (double)row[b]!, 1e-6);
            compared++;
        }

        Assert.True(compared > 0);
    }

    [Fact]
    public void Regions_of_S_hold_its_mean_by_area_as_DuckDB_reads_it()
    {
        File.WriteAllText(Work.PathOf("west.geojson"),
            """{"type":"Feature","properties":{"name":"west"},"geometry":{"type":"Polygon","coordinates":[[[-33,-43],[-28,-43],[-28,-37],[-33,-37],[-33,-43]]]}}""");
        Expect(0, "mean S", "regions", "pipeline/demo.yaml", "--of", "s", "--polygons", "west.geojson", "--output", "summed-s");
        Expect(0, "half-life, days", "regions", "pipeline/demo.yaml", "--polygons", "west.geojson", "--output", "summed-k");
        object?[] s = Work.Query("SELECT s_mean, s_mean_lower, s_mean_upper FROM read_parquet('summed-s/regions.parquet')")[0];
        Assert.True((double)s[1]! < (double)s[0]! && (double)s[0]! < (double)s[2]!);
        Assert.Equal((double)s[0]! - (double)s[1]!, (double)s[2]! - (double)s[0]!, 1e-9);
        Assert.Equal(1L, Work.Query("SELECT count(*) FROM read_parquet('summed-k/regions.parquet') WHERE "
            + "abs(half_life_days * k_mean_per_day - ln(2)) < 1e-12 AND half_life_lower_days < half_life_days")[0][0]);
        Assert.SkipUnless(Command.Has("gdalwarp") && Command.Has("gdalinfo"), "gdal-bin is not installed");
        // the same polygon by GDAL: an equal-area raster of it, whose mean is that of the ground
        Command.Run(Work.Folder, "gdal_translate", "-q", "-b", "1", Places, "band.tif");
        Command.Run(Work.Folder, "gdalwarp", "-q", "-overwrite", "-t_srs", "EPSG:6933", "-tr", "1000", "1000", "-r", "near", "-cutline",
            "west.geojson", "-crop_to_cutline", "band.tif", "west.tif");
        JsonElement info = JsonDocument.Parse(
            Command.Run(Work.Folder, "gdalinfo", "--config", "GDAL_PAM_ENABLED", "NO", "-json", "-stats", "west.tif").Output).RootElement;
        Assert.Equal(info.GetProperty("bands")[0].GetProperty("mean").GetDouble(), (double)s[0]!, 5e-4);
    }

    [Fact]
    public void A_warmer_catalogue_lowers_S_and_tells_the_change_as_a_difference()
    {
        File.WriteAllText(Work.PathOf("warm-s.yaml"), File.ReadAllText(Work.PathOf("scenario/grids.yaml"))
            .Replace("grids/", "scenario/grids/", StringComparison.Ordinal).Replace("file: scenario/grids/air_temperature.tif",
                "file: scenario/grids/air_temperature.tif\n    scale: 0.1\n    offset: 2", StringComparison.Ordinal));
        Expect(0, "There S changes by -", "difference", "pipeline/demo.yaml", "--of", "s", "--grids", "warm-s.yaml", "--output", "change-s");
        JsonElement summary = Json("change-s/difference.json");
        // the demo plants a fall of S by 0.11 in 10 K
        Assert.InRange(summary.GetProperty("mean_difference").GetDouble(), -0.04, -0.01);
        Assert.False(summary.TryGetProperty("mean_ratio", out _));
    }

    [Fact]
    public void Wrong_requests_are_one_clear_sentence()
    {
        string ofRate = Json("atlas/models/current/card.json").GetProperty("model_id").GetString()!,
            ofShare = Json("atlas/models/current-stabilisation/card.json").GetProperty("model_id").GetString()!;
        File.WriteAllText(Work.PathOf("p.csv"), "decimal_latitude,decimal_longitude,s\n-40,-30,1\n");
        Expect(2, "--of is S, expected k (decay rate) or s (stabilisation factor)",
            "predict", "pipeline/demo.yaml", "--of", "S", "--points", "p.csv");
        Expect(2, "--of is stabilisation, expected k", "regions", "pipeline/demo.yaml", "--of", "stabilisation", "--polygons", "no.geojson",
            "--output", "no");
        Expect(2, "--of is both, expected k", "difference", "pipeline/demo.yaml", "--of", "both", "--model", ofRate, "--output", "no");
        Expect(3, $"Model {ofRate} predicts k and not S, which was expected here; name a model of S.",
            "predict", "pipeline/demo.yaml", "--of", "s", "--model", ofRate, "--points", "p.csv");
        Expect(3, $"Model {ofShare} predicts S and not k", "difference", "pipeline/demo.yaml", "--model", ofShare, "--output", "no");
        Expect(2, "there is a column s already", "predict", "pipeline/demo.yaml", "--of", "s", "--points", "p.csv");
    }

    private string? Made(string link) => MadeFolder.CurrentIdOf(Work.PathOf("atlas/maps"), link);

    private JsonElement Json(string path) => JsonDocument.Parse(File.ReadAllText(Work.PathOf(path))).RootElement;
}
