using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>The demo's sites with a model that takes how they are managed and what grows there: an atlas and a configuration of its
/// own.</summary>
public sealed class ClassesAsCovariates(DemoRun demo) : IDisposable
{
    private static readonly string[] Words = ["Organic", "conventional", "biodynamic", ""];

    private readonly Workspace _work = new();

    public void Dispose() => _work.Dispose();

    private CommandResult Expect(int exitCode, string words, params string[] args)
    {
        CommandResult result = _work.DecayAtlasHere(args);
        Assert.True(result.ExitCode == exitCode, $"exit code {result.ExitCode}: {result.Everything}");
        Assert.Contains(words, result.Everything, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", result.Everything, StringComparison.Ordinal);
        return result;
    }

    /// <summary>The demo's configuration with other covariates and another section map.</summary>
    private string Configured(string name, string covariates, string map)
    {
        string demoText = File.ReadAllText(_work.PathOf("pipeline/demo.yaml")).Split("\nmap:")[0];
        File.WriteAllText(_work.PathOf($"pipeline/{name}.yaml"), demoText
            .Replace("clay, elevation]", $"clay, elevation, {covariates}]", StringComparison.Ordinal)
            .Replace("targets: [decay_rate, stabilisation]", "members: 40\n  importance_repeats: 3", StringComparison.Ordinal)
            .Replace("trees: 50", "trees: 20", StringComparison.Ordinal)
            + $"\nmap: {map}\n");
        return $"pipeline/{name}.yaml";
    }

    private JsonElement Card() =>
        JsonDocument.Parse(File.ReadAllText(_work.PathOf("atlas/models/current/card.json"))).RootElement;

    /// <summary>Rows that bring every covariate, and one that leaves its management out.</summary>
    private void RowsAreTakenAsIfToo(string bare, JsonElement card)
    {
        string[] names = [.. card.GetProperty("covariates").EnumerateArray().Select(c => c.GetProperty("name").GetString()!)];
        string RowOf(string management) => string.Join(',', card.GetProperty("covariates").EnumerateArray()
            .Select(c => c.GetProperty("name").GetString() == "management" ? management
                : c.TryGetProperty("classes", out JsonElement classes) && classes.ValueKind == JsonValueKind.Object
                    ? classes.GetProperty("names")[0].GetString()! : c.GetProperty("training_minimum").GetRawText()));
        File.WriteAllText(_work.PathOf("rows.csv"), $"{string.Join(',', names)}\n{RowOf("organic")}\n{RowOf("none")}\n{RowOf("")}\n");
        string[] Rates(params string[] more) => [.. _work.DecayAtlasHere(["predict", bare, "--rows", "rows.csv", .. more]).Output
            .Split('\n').Skip(1).Take(3).Select(line => line.Split(',')[names.Length])];
        Assert.Contains("missing: management", Expect(0, "2 of 3 rows predicted", "predict", bare, "--rows", "rows.csv").Output,
            StringComparison.Ordinal);
        string[] rates = Rates("--as-if", "management=organic");
        Assert.Equal(rates[0], rates[2]);
        Assert.NotEqual(rates[1], rates[2]);
        Assert.Equal(rates[1], Rates("--as-if", "management=none")[2]);
        File.WriteAllText(_work.PathOf("short.csv"), "clay\n20\n");
        Expect(2, "there is no column air_temperature_mean", "predict", bare, "--rows", "short.csv", "--as-if", "management=organic");
        Expect(2, "a class that the model never saw", "predict", bare, "--rows", "rows.csv", "--as-if", "management=wild");
    }

    [Fact]
    public void A_model_of_management_and_ecosystem_is_trained_mapped_as_if_and_asked()
    {
        _work.Copy(demo.Workspace, "scenario");
        _work.Copy(demo.Workspace, "atlas");
        // its codes have no names, and are no numbers all the same
        Assert.Contains("ecosystem is a class, and a number is needed",
            _work.DecayAtlas("relate", "pipeline/demo.yaml", "--to", "ecosystem").Everything, StringComparison.Ordinal);
        Expect(2, "write grid:ecosystem or stated:ecosystem", "train", Configured("both", "ecosystem", "{}"));
        Expect(2, "sites state no soil; they state ecosystem, land_use, management", "train", Configured("none", "stated:soil", "{}"));

        string without = Card().GetProperty("model_id").GetString()!;
        const string box = "bbox: [-32, -41, -30, -39], cell_size: 0.05";
        string file = Configured("classes", "management, grid:ecosystem", $"{{ {box}, as_if: {{ management: organic }} }}");
        Expect(0, "model m-", "train", file);
        JsonElement card = Card();
        JsonElement management = card.GetProperty("covariates").EnumerateArray()
            .Single(c => c.GetProperty("name").GetString() == "management");
        Assert.Equal(["conventional", "none", "organic"],
            management.GetProperty("classes").GetProperty("names").EnumerateArray().Select(n => n.GetString()!));
        Assert.True(management.GetProperty("is_stated").GetBoolean());

        Expect(0, "as if management is organic", "map", file);
        JsonElement map = JsonDocument.Parse(File.ReadAllText(_work.PathOf("atlas/maps/current/map.json"))).RootElement;
        Assert.Equal("organic", map.GetProperty("as_if").GetProperty("management").GetString());
        Expect(2, "--as-if management=conventional), one of conventional, none, organic", "map",
            Configured("nothing", "management, grid:ecosystem", $"{{ {box} }}"));
        Expect(2, "management is to be biodynamic, a class that the model never saw", "map",
            Configured("unseen", "management, grid:ecosystem", $"{{ {box}, as_if: {{ management: biodynamic }} }}"));
        Expect(2, "warmth, which is no class of the model", "map",
            Configured("other", "management, grid:ecosystem", $"{{ {box}, as_if: {{ warmth: high }} }}"));
        Expect(2, "takes management from clay, which is no class grid", "map",
            Configured("wrong", "management, grid:ecosystem", $"{{ {box}, from_grid: {{ management: clay }} }}"));

        Expect(2, "takes management from ecosystem, whose codes have no names", "map",
            Configured("codes", "management, grid:ecosystem", $"{{ {box}, from_grid: {{ management: ecosystem }} }}"));

        File.WriteAllText(_work.PathOf("places.csv"), "decimal_latitude,decimal_longitude\n-40.2,-31.2\n");
        File.WriteAllText(_work.PathOf("farms.csv"),
            "decimal_latitude,decimal_longitude,management\n" + string.Concat(
                Words.Select(word => $"-40.2,-31.2,{word}\n")));
        string bare = Configured("bare", "management, grid:ecosystem", $"{{ {box} }}");
        Expect(2, "there is no column management, which the model takes as sites state it", "predict", bare, "--points", "places.csv");
        Expect(2, "expected for example management=organic", "predict", bare, "--points", "places.csv", "--as-if", "organic");
        Expect(2, "clay, which is no class of the model", "predict", bare, "--points", "places.csv", "--as-if", "clay=5");
        string asIf = Expect(0, "as if management is organic wherever", "predict", bare, "--points", "places.csv", "--as-if",
            "management=ORGANIC").Output;
        string[][] rows = [.. Expect(0, "2 of 4 rows predicted", "predict", bare, "--points", "farms.csv").Output.Split('\n').Skip(1)
            .Select(line => line.Split(','))];
        Assert.Equal(asIf.Split('\n')[1].Split(',')[2], rows[0][3]);
        Assert.NotEqual(rows[0][3], rows[1][3]);
        Assert.Contains("class never seen in training: management", rows[2]);
        Assert.Contains("missing: management", rows[3]);

        // the grid says what grows there to a model of grid:ecosystem, and a table says which kind of place it is
        File.WriteAllText(_work.PathOf("kinds.csv"),
            "decimal_latitude,decimal_longitude,management,ecosystem\n-40.2,-31.2,organic,forest\n-40.2,-31.2,organic,\n");
        Assert.All(Expect(0, "2 of 2 rows predicted", "predict", bare, "--points", "kinds.csv").Output.Trim().Split('\n').Skip(1),
            line => Assert.Equal(rows[0][3], line.Split(',')[4]));
        RowsAreTakenAsIfToo(bare, card);

        // two models differ in more than what one of them alone takes, and nothing is swapped
        string models = Expect(0, "Compared", "difference", file, "--model", without, "--output", "models").Output;
        Assert.DoesNotContain(DifferenceMap.SpaceForTime, models, StringComparison.Ordinal);
        Assert.DoesNotContain(DifferenceMap.PlacesForChange, models, StringComparison.Ordinal);

        // the ratio at that place is the one of the map of difference, whatever grows there: the model has no products
        Expect(2, "what is to differ", "difference", file, "--output", "change");
        Expect(2, "management is to be wild, a class that the model never saw", "difference", file, "--as-if", "management=wild",
            "--output", "change");
        Expect(2, "A class is chosen for managment, which is no class of the model", "difference", file, "--as-if", "management=organic",
            "--before-as-if", "managment=conventional", "--output", "change");
        Expect(0, DifferenceMap.PlacesForChange, "difference", file, "--as-if", "management=organic", "--before-as-if",
            "management=conventional", "--output", "change");
        JsonElement change = JsonDocument.Parse(File.ReadAllText(_work.PathOf("change/difference.json"))).RootElement;
        Assert.Equal("conventional", change.GetProperty("before").GetProperty("as_if").GetProperty("management").GetString());
        Assert.Equal("management", Assert.Single(change.GetProperty("swapped").EnumerateArray()).GetString());
        Assert.InRange(change.GetProperty("mean_ratio").GetDouble(), 0.9, 1.6);

        File.WriteAllText(_work.PathOf("box.geojson"), """
            {"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"a"},
            "geometry":{"type":"Polygon","coordinates":[[[-31.8,-40.8],[-30.2,-40.8],[-30.2,-39.2],[-31.8,-39.2],[-31.8,-40.8]]]}}]}
            """);
        Expect(0, "The map is made as if management is organic.", "regions", bare, "--polygons", "box.geojson", "--output", "summed");
        Expect(0, "The map is made as if management is organic, and so is all", "sites", bare, "--whole-map", "--count", "2", "--output",
            "next");
        Assert.All(_work.Query("SELECT covariate_management FROM read_csv('next/sites.csv')"), row => Assert.Equal("organic", row[0]));
    }
}
