using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>A model of k that cannot be trained beside one of S that can, and the other way round.</summary>
public sealed class TargetsApart(DemoRun demo) : IDisposable
{
    private readonly Workspace _work = new();

    public void Dispose() => _work.Dispose();

    [Fact]
    public void A_target_that_cannot_be_trained_is_told_in_a_sentence_and_the_other_is_trained_all_the_same()
    {
        Assert.SkipUnless(Workspace.CanCopy, "cp is not installed");
        _work.Copy(demo.Workspace, "atlas");
        string before = Model("current"), beforeOfS = Model("current-stabilisation");
        // precipitation is no temperature, which the baseline of k minds and S has no use for
        File.WriteAllText(_work.PathOf("p.yaml"), $$"""
            version: 1
            atlas: atlas
            inbox: inbox
            grids: {{demo.Workspace.PathOf("scenario/grids.yaml")}}
            train:
              covariates: [air_temperature_mean, precipitation]
              targets: [decay_rate, stabilisation]
              folds: 3
              block_degrees: 1
              trees: 5
              members: 20
              settings_tried: 1
              baseline: { temperature: precipitation }
            """);
        CommandResult run = _work.DecayAtlasHere("train", "p.yaml");
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("The baseline's temperature 'precipitation' has the unit 'mm/yr', expected degC", run.Everything,
            StringComparison.Ordinal);
        Assert.DoesNotContain("made a mistake", run.Everything, StringComparison.Ordinal);
        Assert.Equal(before, Model("current"));
        Assert.NotEqual(beforeOfS, Model("current-stabilisation"));
    }

    [Fact]
    public void A_model_of_S_that_cannot_be_trained_is_told_and_that_of_k_is_trained_and_mapped()
    {
        GivenSitesOfTheSameS();
        File.WriteAllText(_work.PathOf("p.yaml"), $$"""
            version: 1
            atlas: atlas
            inbox: inbox
            grids: {{demo.Workspace.PathOf("scenario/grids.yaml")}}
            train:
              covariates: [air_temperature_mean, precipitation]
              targets: [decay_rate, stabilisation]
              folds: 3
              block_degrees: 1
              trees: 5
              members: 20
              settings_tried: 1
            map: { title: Decay rate, bbox: [-31, -39, -29, -37] }
            """);
        CommandResult run = _work.DecayAtlasHere("run", "p.yaml");

        Assert.True(run.ExitCode == 1, run.Everything);
        const string told = "Every training row has the same stabilisation (S = ";
        Assert.Contains($"There is no model of S of this release. {told}", run.Everything, StringComparison.Ordinal);
        string summary = File.ReadAllText(_work.PathOf("atlas/runs/latest-summary.txt"));
        Assert.Contains($"There is no model of S of this release: {told}", summary, StringComparison.Ordinal);
        using JsonDocument record = JsonDocument.Parse(File.ReadAllText(Directory.GetFiles(_work.PathOf("atlas/runs"), "*.json").Single()));
        Assert.StartsWith(told, record.RootElement.GetProperty("stabilisation_failure").GetString(), StringComparison.Ordinal);
        Assert.Equal(1, record.RootElement.GetProperty("exit_code").GetInt32());
        Assert.True(File.Exists(_work.PathOf("atlas/models/current/card.json")));
        Assert.True(File.Exists(_work.PathOf("atlas/maps/current/decay-rate.tif")));
        Assert.False(Directory.Exists(_work.PathOf("atlas/models/current-stabilisation")));
        Assert.Contains("There is no map of S, for there is no model of S.", run.Everything, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_work.PathOf("atlas/maps/current-stabilisation")));
        Assert.False(Directory.Exists(_work.PathOf("atlas/maps/current-joint")));
    }

    /// <summary>A burial at each of sixty sites of the demo: k varies, and half of the fast litter is lost everywhere.</summary>
    private void GivenSitesOfTheSameS()
    {
        string example = Project.PathOf("schemas/v1/example"), inbox = _work.PathOf("inbox/same-s");
        Directory.CreateDirectory(inbox);
        foreach (string same in new[] { "datapackage.json", "lots.csv" })
            File.Copy(Path.Combine(example, same), Path.Combine(inbox, same));
        string[] Header(string table) => [File.ReadLines(Path.Combine(example, table)).First()];
        File.WriteAllLines(Path.Combine(inbox, "samples.csv"), Header("samples.csv"));

        List<object?[]> places = demo.Workspace.Query("""
            SELECT decimal_latitude, decimal_longitude FROM read_parquet('atlas/current/sites/**/*.parquet')
            WHERE use = 'accepted' AND NOT coordinates_generalised ORDER BY site_key LIMIT 60
            """);
        Assert.Equal(60, places.Count);
        File.WriteAllLines(Path.Combine(inbox, "sites.csv"), Header("sites.csv").Concat(places.Select((at, i) =>
            string.Create(CultureInfo.InvariantCulture, $"s{i},{at[0]},{at[1]},15,no,XA,grassland,meadow,organic,,,,"))));
        File.WriteAllLines(Path.Combine(inbox, "bags.csv"), Header("bags.csv").Concat(places.SelectMany((_, i) => new[]
        {
            Bag(i, "F-07,fast", 3.4 + 0.004 * i, 1.7 + 0.002 * i),
            Bag(i, "S-03,slow", 4 + 0.002 * i, 3.2 + 0.026 * (i * 7 % 11)),
        })));
    }

    private static string Bag(int site, string lotAndRole, double before, double after) => string.Create(CultureInfo.InvariantCulture,
        $"s{site}-{lotAndRole[0]},b{site},s{site},A,1,{lotAndRole},,{before:F3},{after:F3},litter,oven,,,oven,70,,,,2024-05-14,"
        + $"2024-08-12,8,intact,yes,,0.001,,,");

    private string Model(string link) => File.ReadAllText(_work.PathOf($"atlas/models/{link}/card.json"));
}
