using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.EndToEnd;

/// <summary>What the server hands out, held against the command line, GDAL and DuckDB.</summary>
public sealed class ServedNumbers(ServedDemo served) : IClassFixture<ServedDemo>
{
    private string Release => served.Address + "/releases/" + new AtlasFolder(served.Workspace.PathOf("atlas")).CurrentRelease();

    [Fact]
    public async Task A_point_is_told_what_the_command_predict_tells_it()
    {
        // over land and sea, with and without season and depth, and off the map
        string[] rows = [.. Enumerable.Range(0, 40).Select(i => string.Create(CultureInfo.InvariantCulture,
            $"{-42.5 + i * 0.14:0.####},{-33.5 + i * 0.17:0.####},{(i % 3 == 0 ? "2024-04-01,2024-07-01" : ",")},"
            + $"{(i % 4 == 0 ? "8" : "")},{(i % 5 == 0 ? "500" : "")},{(i % 2 == 0 ? "grassland" : "")}")),
                "60,100,,,,,"];
        File.WriteAllText(
            served.Workspace
                .PathOf("asked.csv"),
                    "decimal_latitude,decimal_longitude,buried_on,retrieved_on,depth_cm,coordinate_uncertainty_m,ecosystem\n"
                    + string.Join('\n', rows) + "\n");
        CommandResult told = served.Workspace.DecayAtlas("predict", "pipeline/demo.yaml", "--points", "asked.csv");
        Assert.Equal(0, told.ExitCode);
        string[][] expected = [.. told.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)
            .Select(l => l.TrimEnd('\r').Split(','))];
        int predicted = 0;
        foreach (string[] row in expected)
        {
            JsonNode feature =
                await served.GetAsync($"{served.Address}/predict?lat={row[0]}&lon={row[1]}&buried_on={row[2]}&retrieved_on={row[3]}&depth_cm={row[4]}&coordinate_uncertainty_m={row[5]}&ecosystem={row[6]}", "application/geo+json");
            JsonObject says = feature["properties"]!.AsObject();
            string Said(string name) => says[name] is { } value
                ? value.GetValueKind() is JsonValueKind.True ? "yes" : value.GetValueKind() is JsonValueKind.False ? "no" : Single(value)
                : "";
            Assert.Equal(row[7..14], new[]
            {
                "k_per_day", "k_lower_per_day", "k_upper_per_day", "k_measured_lower_per_day", "k_measured_upper_per_day", "dissimilarity",
                "applicable",
            }.Select(Said));
            Assert.Equal(row[14], (string)says["status"]!);
            Assert.Equal(row[14] == "predicted", says["covariates"]!.AsArray().All(c => c!["value"] is not null));
            // of a kind that the card has an interval of, where there is one
            Assert.Equal(row[6].Length == 0 || row[7].Length == 0 ? null : "grassland", (string?)says["interval_of"]);
            // the faster end is the shorter half-life; by hand from the k that was told
            Assert.Equal(row[7].Length == 0, Told("half_life_days") is null);
            if (row[7].Length > 0)
            {
                // k is told in single precision
                Assert.InRange(Told("half_life_days")!.Value * Told("k_per_day")!.Value / Math.Log(2), 1 - 1e-6, 1 + 1e-6);
                Assert.InRange(Told("half_life_lower_days")!.Value * Told("k_upper_per_day")!.Value / Math.Log(2), 1 - 1e-6, 1 + 1e-6);
            }

            JsonObject second = says["stabilisation"]!.AsObject();
            Assert.Equal(row[14] == "predicted", second["s"] is not null);
            Assert.True(second["s"] is not { } s || (s.GetValue<double>() > second["s_lower"]!.GetValue<double>()
                && s.GetValue<double>() < second["s_upper"]!.GetValue<double>()));
            Assert.NotEqual((string)says["model_id"]!, (string)second["model_id"]!);
            double? Told(string name) => says[name]?.GetValue<double>();
            predicted += row[14] == "predicted" ? 1 : 0;
        }

        Assert.InRange(predicted, 5, expected.Length - 1);

        // the command writes single precision as it is read back
        static string Single(JsonNode value) => value.GetValue<float>().ToString("R", CultureInfo.InvariantCulture);
    }

    [Fact]
    public async Task Sites_carry_k_and_S_of_their_newest_campaign_as_DuckDB_finds_them()
    {
        Answer csv = await served.AskAsync("/collections/sites/items?f=csv&limit=10000");
        File.WriteAllText(served.Workspace.PathOf("served-sites.csv"), csv.Text);
        object?[] row = served.Workspace.Query("""
            WITH untreated AS (
                SELECT * FROM read_parquet('atlas/current/site_campaigns/**/*.parquet')
                WHERE (treatment IS NULL OR treatment IN ('control', 'none')) AND (k_geometric_mean_per_day IS NOT NULL OR s_mean IS NOT NULL)),
            newest AS (SELECT u.* FROM untreated u JOIN (
                SELECT site_key, max(last_retrieved_on) AS day FROM untreated GROUP BY 1) n ON u.site_key = n.site_key AND u.last_retrieved_on = n.day)
            SELECT count(*), count(s.k_per_day), count(n.site_key), max(abs(s.k_per_day - n.k_geometric_mean_per_day)),
                max(abs(s.s_lower95 - n.s_lower95)), count(*) FILTER (s.campaign IS DISTINCT FROM n.campaign),
                (SELECT count(*) FROM read_parquet('atlas/current/sites/**/*.parquet'))
            FROM read_csv('served-sites.csv') s LEFT JOIN newest n ON n.site_key = s.site_key AND n.evidence = s.evidence
            """)[0];
        Assert.Equal(row[6], row[0]);
        Assert.True((long)row[1]! > 200, $"{row[1]}");
        // all digits, as the header of CSV promises
        Assert.Equal((0.0, 0.0, 0L), ((double)row[3]!, (double)row[4]!, (long)row[5]!));
    }

    [Fact]
    public async Task The_answer_is_a_feature_that_GDAL_reads_with_model_units_and_caution()
    {
        string address = served.Address + "/predict?lon=-30&lat=-40";
        JsonNode says = (await served.GetAsync(address, "application/geo+json"))["properties"]!;
        JsonElement card = JsonDocument.Parse(File.ReadAllText(served.Workspace.PathOf("atlas/models/current/card.json"))).RootElement;
        Assert.Equal(card.GetProperty("model_id").GetString(), (string)says["model_id"]!);
        Assert.Equal(
            card.GetProperty("covariates").EnumerateArray()
                .Select(c => (c.GetProperty("name").GetString(), c.GetProperty("unit").GetString())),
            says["covariates"]!.AsArray().Select(c => ((string?)c!["name"], (string?)c["unit"])));
        Assert.Contains("No basis for regulation, fertiliser or carbon-credit decisions", (string)says["caution"]!,
            StringComparison.Ordinal);
        Assert.SkipUnless(Command.Has("ogrinfo"), "ogrinfo is not installed (Debian package gdal-bin)");
        CommandResult read = Command.Run(served.Workspace.Folder, "ogrinfo", "-al", address);
        Assert.Contains("POINT (-30 -40)", read.Output, StringComparison.Ordinal);
        Assert.Contains("k_per_day (Real)", read.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "coordinates missing")]
    [InlineData("?lon=1", "coordinates missing")]
    [InlineData("?lon=x&lat=1", "lon is no number")]
    [InlineData("?lon=1&lat=90.5", "off the Earth")]
    [InlineData("?lon=Infinity&lat=1", "lon is no number")]
    [InlineData("?lon=1&lat=1&depth_cm=-1", "depth_cm is not 0 to 1000")]
    [InlineData("?lon=1&lat=1&buried_on=2024-05-01", "one of buried_on and retrieved_on is missing")]
    [InlineData("?lon=1&lat=1&buried_on=1.5.2024&retrieved_on=2024-07-01", "buried_on is no day")]
    [InlineData("?lon=1&lat=1&coordinate_uncertainty_m=1e12", "coordinate_uncertainty_m is not")]
    [InlineData("?lon=1&lat=1&lat=2", "lat is there 2 times")]
    [InlineData("?lon=1&lat=1&height=3", "expected lon, lat,")]
    [InlineData("?longitude=1&latitude=1", "expected lon, lat,")]
    public async Task A_place_that_makes_no_sense_is_refused_in_one_sentence(string query, string says)
    {
        Answer answer = await served.AskAsync(served.Address + "/predict" + query);
        Assert.Equal(400, answer.Status);
        Assert.Equal("application/problem+json", answer.MediaType);
        Assert.Contains(says, (string)JsonNode.Parse(answer.Text)!["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public void GDAL_reads_the_map_in_pieces_as_it_reads_it_from_disk()
    {
        Assert.SkipUnless(Command.Has("gdallocationinfo"), "gdallocationinfo is not installed (Debian package gdal-bin)");
        foreach ((string column, string row) in new[] { ("360", "240"), ("300", "300"), ("620", "200") })
        {
            CommandResult served1 =
                Command.Run(served.Workspace.Folder, "gdallocationinfo", "-valonly", $"/vsicurl/{Release}/pages/map/decay-rate.tif",
                    column, row);
            Assert.True(served1.ExitCode == 0, served1.Everything);
            Assert.Equal(
                Command.Run(served.Workspace.Folder, "gdallocationinfo", "-valonly", "atlas/maps/current/decay-rate.tif", column,
                    row).Output, served1.Output);
        }
    }

    [Fact]
    public void Parquet_that_curl_fetched_in_pieces_is_read_by_DuckDB()
    {
        Assert.SkipUnless(Command.Has("curl"), "curl is not installed");
        string file = Directory.EnumerateFiles(served.Workspace.PathOf("atlas/current/"), "burials.parquet", SearchOption.AllDirectories)
            .OrderByDescending(f => new FileInfo(f).Length).First();
        string path = Path.GetRelativePath(served.Workspace.PathOf("atlas/current/"), file),
            fetched = served.Workspace.PathOf("fetched.parquet");
        File.Delete(fetched);
        using (FileStream whole = File.Create(fetched))
        {
            for (long at = 0, length = new FileInfo(file).Length; at < length; at += 4096)
            {
                string piece = served.Workspace.PathOf("piece");
                CommandResult got =
                    Command.Run(served.Workspace.Folder, "curl", "-s", "-S", "-f", "-L", "-r",
                        string.Create(CultureInfo.InvariantCulture, $"{at}-{at + 4095}"), "-o",
                        piece, $"{served.Address}/releases/current/{path}");
                Assert.True(got.ExitCode == 0, got.Everything);
                whole.Write(File.ReadAllBytes(piece));
            }
        }

        Assert.Equal(served.Workspace.Query($"SELECT count(*), sum(k_per_day) FROM read_parquet('{file}')")[0],
            served.Workspace.Query("SELECT count(*), sum(k_per_day) FROM read_parquet('fetched.parquet')")[0]);
    }
}
