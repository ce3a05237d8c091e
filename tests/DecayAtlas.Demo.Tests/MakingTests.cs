using System.Security.Cryptography;

namespace DecayAtlas.Demo.Tests;

public sealed class MakingTests(ScenarioFixture scenario)
{
    [Fact]
    public void The_same_seed_makes_the_same_bytes_and_another_seed_does_not()
    {
        string again = scenario.NewFolder("again"), other = scenario.NewFolder("other");
        Scenario.Make(new DemoOptions(again, ScenarioFixture.Seed), null);
        Scenario.Make(new DemoOptions(other, 7), null);
        Dictionary<string, string> first = Hashes(scenario.Folder), second = Hashes(again), third = Hashes(other);
        Assert.Equal(first, second);
        Assert.NotEqual(first["grids/elevation.tif"], third["grids/elevation.tif"]);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(123456)]
    public void Other_seeds_make_a_scenario_of_like_size(int seed)
    {
        ScenarioSummary summary = Scenario.Make(new DemoOptions(scenario.NewFolder($"seed-{seed}"), seed), null);
        Assert.True(summary.Sites >= 200);
        Assert.True(summary.Bags >= 2500);
        Assert.True(summary.LandCells > 60_000);
    }

    [Fact]
    public void A_folder_that_already_holds_the_scenario_is_left_alone()
    {
        string file = Path.Combine(scenario.Folder, "grids.yaml");
        DateTime written = File.GetLastWriteTimeUtc(file);
        ScenarioSummary second = Scenario.Make(new DemoOptions(scenario.Folder, ScenarioFixture.Seed), null);
        Assert.Equal(scenario.Summary with { AlreadyThere = true }, second);
        Assert.Equal(written, File.GetLastWriteTimeUtc(file));
    }

    [Fact]
    public void A_folder_that_holds_something_else_is_refused_and_left_alone()
    {
        string folder = scenario.NewFolder("mine");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "thesis.txt"), "years of work");
        DemoException refusal = Assert.Throws<DemoException>(() => Scenario.Make(new DemoOptions(folder, 3), null));
        Assert.Contains(folder, refusal.Message, StringComparison.Ordinal);
        Assert.Equal(["thesis.txt"], Directory.EnumerateFileSystemEntries(folder).Select(Path.GetFileName));
    }

    [Fact]
    public void A_scenario_of_another_seed_is_replaced_but_never_what_someone_put_beside_it()
    {
        string folder = scenario.NewFolder("replaced");
        Scenario.Make(new DemoOptions(folder, 4), null);
        Assert.Equal(5, Scenario.Make(new DemoOptions(folder, 5), null).Seed);
        Assert.Contains("\"seed\": 5", File.ReadAllText(Path.Combine(folder, "scenario.json")), StringComparison.Ordinal);

        Directory.CreateDirectory(Path.Combine(folder, "atlas"));
        DemoException refusal = Assert.Throws<DemoException>(() => Scenario.Make(new DemoOptions(folder, 6), null));
        Assert.Contains("atlas", refusal.Message, StringComparison.Ordinal);
        Assert.True(Directory.Exists(Path.Combine(folder, "atlas")));
    }

    [Fact]
    public void A_place_that_cannot_be_written_is_named_and_nothing_is_left_behind()
    {
        string file = scenario.NewFolder("a-file");
        File.WriteAllText(file, "not a folder");
        string folder = Path.Combine(file, "scenario");
        DemoException refusal = Assert.Throws<DemoException>(() => Scenario.Make(new DemoOptions(folder, 3), null));
        Assert.Contains(folder, refusal.Message, StringComparison.Ordinal);
    }

    private static Dictionary<string, string> Hashes(string folder) =>
        Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).ToDictionary(
            path => Path.GetRelativePath(folder, path).Replace('\\', '/'),
            path => Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(path))));
}
